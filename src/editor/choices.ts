import { PSI_KPA } from '../base/units.ts';
import { CHECK_VALVE, plantDefaults, OUTLET_LAWS } from '../catalog/index.ts';
import { UNMEASURED_HEAD, UNMEASURED_LATERAL } from '../plan/empty.ts';
import {
  LEAST_SPACING_M,
  type BrushChoices,
  type GridChoices,
  type RowChoices,
} from '../layout/plants/index.ts';
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
  /** Dripline and tubing follow the contour line where the pointer comes near it. */
  readonly followContour: boolean;
  /** What a ring or box drawn round things does with them, and its form. */
  readonly lasso: { readonly form: 'free' | 'box'; readonly does: 'choose' | 'add' | 'take' };
  /** From stem to stem of plants that are set many at once, metres; null takes their mature canopy. */
  readonly stemSpacingM: number | null;
  readonly row: Omit<RowChoices, 'spacingM' | 'rowSpacingM'> & Pick<GridChoices, 'rowSpacingM'>;
  readonly grid: Omit<GridChoices, 'spacingM'> & { readonly bedsOnly: boolean };
  readonly brush: Pick<BrushChoices, 'radiusM'> & {
    readonly bedsOnly: boolean;
    /** Takes plants away in place of setting them. */
    readonly erase: boolean;
  };
}

const flowOf = (law: string, index: number) =>
  OUTLET_LAWS.find((entry) => entry.id === law)!.flowsLph[index]!;

/** From stem to stem of plants set many at once, metres: as typed, else one mature canopy, so that canopies touch. */
export function stemSpacing({ stemSpacingM, plant }: Pick<Choices, 'stemSpacingM' | 'plant'>): number {
  return Math.max(LEAST_SPACING_M, stemSpacingM ?? plant.canopyMatureM);
}

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
  // Of one size with the dripline above, so that one kind of fitting holds both.
  blank: { tubing: 'blank-17' },
  emitter: { law: 'point-pc', ratedFlowLph: flowOf('point-pc', 1) },
  check: { openKpa: CHECK_VALVE.openKpa },
  followContour: false,
  lasso: { form: 'free', does: 'choose' },
  stemSpacingM: null,
  row: { firstM: 0, bothEnds: false, rows: 1, rowSpacingM: null, stagger: true },
  grid: { rowSpacingM: null, stagger: true, directionDeg: null, edgeM: 0.3, bedsOnly: true },
  brush: { radiusM: 1, bedsOnly: true, erase: false },
};
