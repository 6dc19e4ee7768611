import { formatQuantity } from '../../base/quantity.ts';
import { ON_SLOPES } from '../../catalog/index.ts';
import type { Plan } from '../../plan/records.ts';
import { called } from '../network/notices.ts';
import { agree, isBelow, listed } from '../wording.ts';
import type { Limit, Rule } from './check.ts';
import { byBed, median, rowsOf, runRefs, type RowPlace } from './drip-rows.ts';
import { bedFillsOf, setChoices } from './live-fills.ts';

const SOURCE = ON_SLOPES.source;

const FACTOR: Limit = {
  key: 'lower-third.factor',
  label: 'Row spacing in the lowest third over that above',
  kind: 'factor',
  usual: ON_SLOPES.lowerThirdFactor,
  least: 1,
  most: 3,
  source: SOURCE,
};
const SLOPE: Limit = {
  key: 'lower-third.slope',
  label: 'Slope from which rows lie wider below',
  kind: 'slope',
  usual: ON_SLOPES.fromPercent,
  least: 0,
  most: 100,
  source: 'common practice',
};

/** Spread evenly over a width, rows miss the factor by a little, share. */
const SLACK = 0.03;
/** A bed with fewer gaps in a part tells nothing. */
const LEAST_GAPS = 2;

/** Gaps between rows of a bed in its lowest third and above it, by height; null where the bed hardly falls. */
export function thirdsOf(
  places: readonly RowPlace[],
): { readonly lower: readonly number[]; readonly upper: readonly number[]; readonly limitM: number } | null {
  let [low, high] = [Infinity, -Infinity];
  for (const { zM } of places) {
    low = Math.min(low, zM);
    high = Math.max(high, zM);
  }
  const limitM = low + (high - low) / 3;
  const lower: number[] = [];
  const upper: number[] = [];
  for (const { gaps } of places) {
    for (const { zM, spacingM } of gaps) (zM < limitM ? lower : upper).push(spacingM);
  }
  return high - low > 0.01 ? { lower, upper, limitM } : null;
}

/** Water seeps down a slope, so the lowest rows can lie wider. Told by the middle spacing of either part. */
export const lowerThirdSpacing: Rule = {
  number: 27,
  title: 'Wider rows in the lowest third of a slope',
  says: ['lower-third-spacing'],
  severity: 'warning',
  limits: [FACTOR, SLOPE],
  source: SOURCE,
  check: ({ plan, units, limit }) => {
    if (plan.levels.size + plan.falls.size === 0) return [];
    const close: { id: string; lowerM: number; upperM: number; places: readonly RowPlace[] }[] = [];
    for (const [id, places] of byBed(rowsOf(plan))) {
      const steep = places.filter(
        ({ slopePercent, toContourDeg }) => slopePercent >= limit(SLOPE) && toContourDeg < 45,
      );
      if (steep.length < places.length / 2) continue;
      const thirds = thirdsOf(steep);
      if (!thirds || thirds.lower.length < LEAST_GAPS || thirds.upper.length < LEAST_GAPS) continue;
      const [lowerM, upperM] = [median(thirds.lower), median(thirds.upper)];
      if (isBelow(lowerM / upperM, limit(FACTOR) * (1 - SLACK))) {
        close.push({ id, lowerM, upperM, places: steep.filter(({ zM }) => zM < thirds.limitM) });
      }
    }
    const [first] = close;
    if (!first) return [];
    const fills = bedFillsOf(plan.fills, new Set(close.map(({ id }) => id)));
    return [
      {
        rule: 'lower-third-spacing',
        severity: 'warning',
        message: `Rows in the lowest third of ${agree(close.length, 'bed', 'beds')} ${bedNames(plan, close)} lie ${formatQuantity('spacing', first.lowerM, units)} apart, those above ${formatQuantity('spacing', first.upperM, units)}: water seeps down the slope and the foot stays too wet. Lay the lowest rows ${limit(FACTOR)} times as far apart.`,
        refs: [
          ...close.map(({ id }) => ({ table: 'areas', id }) as const),
          ...runRefs(close.flatMap(({ places }) => places)),
        ],
        source: SOURCE,
        ...(fills.length > 0
          ? {
              fix: {
                label: 'Lay the lowest rows wider',
                changes: setChoices(fills, { lowerThirdFactor: limit(FACTOR) }),
              },
            }
          : {}),
      },
    ];
  },
};

/** Beds by name for a sentence. */
export function bedNames(plan: Pick<Plan, 'areas'>, beds: readonly { readonly id: string }[]): string {
  return listed(beds.map(({ id }) => called(plan.areas.get(id) ?? { id })));
}
