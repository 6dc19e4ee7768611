import { PSI_KPA } from '../base/units.ts';
import { CHECK_VALVE, plantDefaults, OUTLET_LAWS } from '../catalog/index.ts';
import { UNMEASURED_HEAD, UNMEASURED_LATERAL } from '../plan/empty.ts';
import type { LateralFields } from '../plan/edits/index.ts';
import type {
  AreaUse,
  CheckValve,
  ControlSet,
  Fall,
  Head,
  Plant,
  PointEmitter,
  Run,
} from '../plan/records.ts';

/** What the next drawn object will be like; kept while the app is open, not part of the plan. */
export interface Choices {
  readonly areaUse: AreaUse;
  readonly plant: Omit<Plant, 'id' | 'at'>;
  readonly head: Omit<Head, 'id' | 'at'>;
  readonly lateral: LateralFields;
  readonly levelM: number;
  readonly fall: Fall['by'];
  /** Null: to be typed once it has been measured. */
  readonly supplyKpa: number | null;
  readonly control: Pick<ControlSet, 'filter' | 'regulator' | 'setKpa'>;
  readonly inline: Pick<Run, 'tubing'> & { readonly inline: NonNullable<Run['inline']> };
  readonly blank: Pick<Run, 'tubing'>;
  readonly emitter: Pick<PointEmitter, 'law' | 'ratedFlowLph'>;
  readonly check: Pick<CheckValve, 'openKpa'>;
}

const flowOf = (law: string, index: number) =>
  OUTLET_LAWS.find((entry) => entry.id === law)!.flowsLph[index]!;

/** Choices for a new shrub of its class's usual size. */
export function plantChoice(plantClass: Plant['plantClass'], name = ''): Choices['plant'] {
  const { canopyNowM, canopyMatureM, rootBallM } = plantDefaults(plantClass);
  return { name, plantClass, canopyNowM, canopyMatureM, rootBallM, waterUse: null };
}

export const FIRST_CHOICES: Choices = {
  areaUse: 'bed',
  plant: plantChoice('shrub'),
  head: UNMEASURED_HEAD,
  lateral: UNMEASURED_LATERAL,
  levelM: 0,
  fall: { kind: 'drop', dropM: 0 },
  supplyKpa: null,
  control: { filter: 'screen-155', regulator: 'window-0.1-8', setKpa: 25 * PSI_KPA },
  inline: {
    tubing: 'inline-17',
    inline: { law: 'inline-pc', ratedFlowLph: flowOf('inline-pc', 2), spacingM: 0.4572, firstM: 0.2286 },
  },
  blank: { tubing: 'blank-half-600' },
  emitter: { law: 'point-pc', ratedFlowLph: flowOf('point-pc', 1) },
  check: { openKpa: CHECK_VALVE.openKpa },
};
