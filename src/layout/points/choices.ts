import { GALLON_L } from '../../base/units.ts';
import type { Point } from '../../base/point.ts';
import { FEEDER_WARN_M } from '../../derive/checks/feeder-length.ts';
import type { PlantClass } from '../../plan/records.ts';

/** Where the emitters stand: for the plant as it is now, or as it will be. */
export type PointPlace = 'now' | 'mature';

/** Where the emitters sit: at the plant, at the end of their feeder, or on the run with the feeder open at the plant. */
export type EmitterAt = 'plant' | 'run';

/** Where the tubing begins: found by itself, at a control set or valve, at a place, or wherever is shortest. */
export type PointStart =
  | { readonly kind: 'auto' }
  | { readonly kind: 'control'; readonly id: string }
  | { readonly kind: 'supply'; readonly id: string }
  | { readonly kind: 'place'; readonly at: Point };

/** How point emitters and their tubing are laid out. */
export interface PointChoices {
  /** Catalog id of the outlet law. */
  readonly law: string;
  /** Rated flow of each emitter by class, L/h; classes left out take the usual one. */
  readonly flowLph: Partial<Readonly<Record<PlantClass, number>>>;
  /** Emitters of each plant; `null` takes the usual number. */
  readonly count: number | null;
  readonly place: PointPlace;
  readonly emitterAt: EmitterAt;
  /** Whether perennials and ground covers that stand close may share their emitters (`shareGroups`). */
  readonly share: boolean;
  /** Longest feeder, on the ground, metres. */
  readonly feederLimitM: number;
  readonly drawTubing: boolean;
  /** Catalog id of the blank tubing. */
  readonly tubing: string;
  readonly start: PointStart;
  /** Whether emitters that the plants have already are taken away. */
  readonly replace: boolean;
}

/** Bounds of what may be asked. */
export const MOST_EMITTERS = 24;
export const FEEDER_LEAST_M = 0.3;

/**
 * A feeder of 6 ft at most: municipal programme (see `FEEDER_WARN_M`). Tubing of one size with the usual dripline, so that
 * one kind of fitting serves the whole zone.
 */
export const USUAL_POINTS: PointChoices = {
  law: 'point-pc',
  flowLph: {},
  count: null,
  place: 'now',
  emitterAt: 'plant',
  share: false,
  feederLimitM: FEEDER_WARN_M,
  drawTubing: true,
  tubing: 'blank-17',
  start: { kind: 'auto' },
  replace: true,
};

/** Sizes of point emitters to choose from, L/h. */
export const POINT_FLOWS_LPH: readonly number[] = [0.5, 1, 2, 4].map((gph) => gph * GALLON_L);
