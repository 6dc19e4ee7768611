import { acceptanceBands, acceptanceClass, type Measure } from '../../catalog/index.ts';
import type { Results } from '../results.ts';
import { shownSource } from '../wording.ts';

/** A figure of uniformity in the class of one published way to judge it. */
export interface Acceptance {
  readonly measure: Measure;
  readonly percent: number;
  readonly band: string;
  /** Where the band applies; empty where it does everywhere. */
  readonly applies: string;
  readonly className: string;
  readonly source: string;
}

/**
 * The classes of a plan's uniformity by all bands in the catalog that judge its kind of outlets. Sources disagree, so
 * each stands with its own; empty where nothing flows.
 */
export function acceptanceOf({ outlets, uniformity, eu, us }: Results): Acceptance[] {
  const hasLine = outlets.some(({ owner }) => owner.table === 'runs');
  const hasPoint = outlets.some(({ owner }) => owner.table === 'emitters');
  const figures: readonly (readonly [Measure, number | null])[] = [
    ['EU', eu],
    ['DUlq', uniformity?.dulq ?? null],
    ['Us', us],
    ['qvar', uniformity?.flowVariation ?? null],
  ];
  return figures.flatMap(([measure, percent]) => {
    if (percent === null || !Number.isFinite(percent)) return [];
    return acceptanceBands(measure)
      .filter(
        ({ applies }) =>
          (hasLine || !applies.startsWith('line')) && (hasPoint || !applies.startsWith('point')),
      )
      .map((band): Acceptance => ({
        measure,
        percent,
        band: band.name,
        applies: band.applies,
        className: acceptanceClass(band, percent),
        source: shownSource(band.source),
      }));
  });
}
