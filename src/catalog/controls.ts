import { GPM_LPH, PSI_KPA } from '../base/units.ts';
import type { Entry } from './source.ts';

/** A threaded end: nominal size as written, tapered pipe or straight hose thread, and which half it is. */
export interface PipeEnd {
  readonly size: string;
  readonly thread: 'pipe' | 'hose';
  readonly gender: 'male' | 'female';
}

export interface Filter extends Entry {
  readonly inlet: PipeEnd;
  readonly outlet: PipeEnd;
  readonly mesh: number;
  readonly openingMicron: number;
  /** Clean loss at the rated flow, kPa; loss grows with the square of flow (common practice). */
  readonly ratedFlowLph: number;
  readonly cleanLossKpa: number;
  /** Loss at the rated flow when it is due for cleaning, kPa: 7 psi over clean, the most of the usual 5 to 7. */
  readonly dirtyLossKpa: number;
}

export interface Regulator extends Entry {
  readonly inlet: PipeEnd;
  readonly outlet: PipeEnd;
  readonly minFlowLph: number;
  readonly maxFlowLph: number;
  /** Pressure that the inlet must have above the setting, kPa, so that the outlet reaches it at full flow. */
  readonly headroomKpa: number;
  readonly settingsKpa: readonly number[];
  /** How far the outlet rises over the setting when nothing flows, as a share of the setting. */
  readonly creepShare: number;
}

/** Filters are usually threaded male, regulators female, both with pipe thread: common practice. */
const threaded = (size: string, gender: PipeEnd['gender']): Pick<Filter, 'inlet' | 'outlet'> => ({
  inlet: { size, thread: 'pipe', gender },
  outlet: { size, thread: 'pipe', gender },
});

const filterSource =
  'opening: US sieve chart; loss 3 psi or less clean at rated flow, cleaned at 5 to 7 psi over clean: common practice';
// Ratings of the larger ones are from memory, to be checked.
const largeSource = `${filterSource}; rated flows of larger sizes: common practice, typical values`;
// Flow ranges and settings are from memory, to be checked.
const windowSource = 'common practice, typical values: usual flow ranges and settings, 15 % creep at no flow';
const CLEAN_LOSS_KPA = 3 * PSI_KPA;
const DIRTY_LOSS_KPA = CLEAN_LOSS_KPA + 7 * PSI_KPA;
const CREEP_SHARE = 0.15;
const settingsKpa = [10, 15, 20, 25, 30, 40].map((psi) => psi * PSI_KPA);

export const FILTERS: readonly Filter[] = [
  {
    id: 'screen-155',
    name: 'screen filter, 150 mesh',
    mesh: 150,
    openingMicron: 100,
    ratedFlowLph: 8 * GPM_LPH,
    cleanLossKpa: CLEAN_LOSS_KPA,
    dirtyLossKpa: DIRTY_LOSS_KPA,
    ...threaded('3/4', 'male'),
    source: filterSource,
  },
  {
    id: 'screen-150-15',
    name: 'screen filter, 150 mesh, 15 gpm',
    mesh: 150,
    openingMicron: 100,
    ratedFlowLph: 15 * GPM_LPH,
    cleanLossKpa: CLEAN_LOSS_KPA,
    dirtyLossKpa: DIRTY_LOSS_KPA,
    ...threaded('1', 'male'),
    source: largeSource,
  },
  {
    id: 'screen-150-40',
    name: 'screen filter, 150 mesh, 40 gpm',
    mesh: 150,
    openingMicron: 100,
    ratedFlowLph: 40 * GPM_LPH,
    cleanLossKpa: CLEAN_LOSS_KPA,
    dirtyLossKpa: DIRTY_LOSS_KPA,
    ...threaded('1-1/2', 'male'),
    source: largeSource,
  },
  {
    id: 'screen-200',
    name: 'screen filter, 200 mesh',
    mesh: 200,
    openingMicron: 74,
    ratedFlowLph: 8 * GPM_LPH,
    cleanLossKpa: CLEAN_LOSS_KPA,
    dirtyLossKpa: DIRTY_LOSS_KPA,
    ...threaded('3/4', 'male'),
    source: filterSource,
  },
  {
    id: 'disc-120',
    name: 'disc filter, 120 mesh',
    mesh: 120,
    openingMicron: 125,
    ratedFlowLph: 20 * GPM_LPH,
    cleanLossKpa: CLEAN_LOSS_KPA,
    dirtyLossKpa: DIRTY_LOSS_KPA,
    ...threaded('1', 'male'),
    source: filterSource,
  },
];

export const REGULATORS: readonly Regulator[] = [
  {
    id: 'window-0.1-8',
    name: '0.1 to 8 gpm',
    minFlowLph: 0.1 * GPM_LPH,
    maxFlowLph: 8 * GPM_LPH,
    headroomKpa: 5 * PSI_KPA,
    settingsKpa,
    creepShare: CREEP_SHARE,
    ...threaded('3/4', 'female'),
    source: windowSource,
  },
  {
    id: 'window-0.5-15',
    name: '0.5 to 15 gpm',
    minFlowLph: 0.5 * GPM_LPH,
    maxFlowLph: 15 * GPM_LPH,
    headroomKpa: 5 * PSI_KPA,
    settingsKpa,
    creepShare: CREEP_SHARE,
    ...threaded('3/4', 'female'),
    source: windowSource,
  },
  {
    id: 'window-2-20',
    name: '2 to 20 gpm',
    minFlowLph: 2 * GPM_LPH,
    maxFlowLph: 20 * GPM_LPH,
    headroomKpa: 5 * PSI_KPA,
    settingsKpa,
    creepShare: CREEP_SHARE,
    ...threaded('1', 'female'),
    source: windowSource,
  },
  {
    id: 'window-10-32',
    name: '10 to 32 gpm',
    minFlowLph: 10 * GPM_LPH,
    maxFlowLph: 32 * GPM_LPH,
    headroomKpa: 5 * PSI_KPA,
    settingsKpa,
    creepShare: CREEP_SHARE,
    ...threaded('1-1/4', 'female'),
    source: windowSource,
  },
  {
    id: 'window-20-60',
    name: '20 to 60 gpm',
    minFlowLph: 20 * GPM_LPH,
    maxFlowLph: 60 * GPM_LPH,
    headroomKpa: 5 * PSI_KPA,
    settingsKpa,
    creepShare: CREEP_SHARE,
    ...threaded('1-1/2', 'female'),
    source: windowSource,
  },
];

export function filterById(id: string): Filter | undefined {
  return FILTERS.find((filter) => filter.id === id);
}

export function regulatorById(id: string): Regulator | undefined {
  return REGULATORS.find((regulator) => regulator.id === id);
}
