import { formatQuantity } from '../../base/quantity.ts';
import { ON_SLOPES } from '../../catalog/index.ts';
import type { Fill, Plan } from '../../plan/records.ts';
import { called } from '../network/notices.ts';
import { agree, isBelow, listed } from '../wording.ts';
import type { Limit, Rule } from './check.ts';
import { byBed, median, rowsOf, runRefs, type RowGap, type RowPlace } from './drip-rows.ts';
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
/** A bed with fewer gaps from row to row in a part tells nothing. */
const LEAST_GAPS = 2;

interface Thirds {
  readonly lower: readonly RowGap[];
  readonly upper: readonly RowGap[];
  readonly limitM: number;
}

/**
 * Gaps between rows of a bed that lie wholly in its lowest third, or above it, by height; null where the bed hardly
 * falls. A gap over the limit belongs to neither: part of it is spaced one way and part the other.
 */
export function thirdsOf(places: readonly RowPlace[]): Thirds | null {
  let [low, high] = [Infinity, -Infinity];
  for (const { zM } of places) {
    low = Math.min(low, zM);
    high = Math.max(high, zM);
  }
  const limitM = low + (high - low) / 3;
  const lower: RowGap[] = [];
  const upper: RowGap[] = [];
  for (const { zM: ownM, gaps } of places) {
    for (const gap of gaps) {
      const otherM = 2 * gap.zM - ownM;
      if (Math.max(ownM, otherM) <= limitM) lower.push(gap);
      else if (Math.min(ownM, otherM) >= limitM) upper.push(gap);
    }
  }
  return high - low > 0.01 ? { lower, upper, limitM } : null;
}

/** How many gaps lie one above the other; those beside each other, where rows are parted, count once. */
function countOf(gaps: readonly RowGap[], slopePercent: number): number {
  const heights = new Map<string, { sum: number; count: number }>();
  for (const { rows, zM } of gaps) {
    const own = heights.get(rows) ?? { sum: 0, count: 0 };
    heights.set(rows, own);
    own.sum += zM;
    own.count += 1;
  }
  const apartM = (median(gaps.map(({ spacingM }) => spacingM)) * slopePercent) / 100 / 2;
  let last = -Infinity;
  let count = 0;
  for (const zM of [...heights.values()].map(({ sum, count: of }) => sum / of).sort((a, b) => a - b)) {
    if (zM - last < apartM) continue;
    last = zM;
    count += 1;
  }
  return count;
}

/** Live fills whose rows are laid so far apart already. Rings along the edge of a bed know no lowest third. */
function isWideEnough(fill: Fill, factor: number): boolean {
  return (
    fill.kind === 'bed' &&
    !fill.byHand &&
    fill.choices.pattern !== 'loops' &&
    !isBelow(fill.choices.lowerThirdFactor, factor)
  );
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
    const well = new Set(
      [...plan.fills].flatMap((fill) => (isWideEnough(fill, limit(FACTOR)) ? fill.runIds : [])),
    );
    for (const [id, all] of byBed(rowsOf(plan))) {
      const places = well.size > 0 ? all.filter(({ run }) => !well.has(run.id)) : all;
      const steep = places.filter(
        ({ slopePercent, toContourDeg }) => slopePercent >= limit(SLOPE) && toContourDeg < 45,
      );
      if (steep.length === 0 || steep.length < places.length / 2) continue;
      const thirds = thirdsOf(steep);
      if (!thirds) continue;
      const slope = median(steep.map(({ slopePercent }) => slopePercent));
      if (countOf(thirds.lower, slope) < LEAST_GAPS || countOf(thirds.upper, slope) < LEAST_GAPS) continue;
      const [lowerM, upperM] = [thirds.lower, thirds.upper].map((gaps) =>
        median(gaps.map(({ spacingM }) => spacingM)),
      ) as [number, number];
      if (isBelow(lowerM / upperM, limit(FACTOR) * (1 - SLACK))) {
        close.push({ id, lowerM, upperM, places: steep.filter(({ zM }) => zM < thirds.limitM) });
      }
    }
    const [first] = close;
    if (!first) return [];
    const fills = bedFillsOf(plan.fills, new Set(close.map(({ id }) => id))).filter(
      (fill) => !isWideEnough(fill, limit(FACTOR)),
    );
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
                changes: fills.flatMap((fill) =>
                  setChoices([fill], {
                    lowerThirdFactor: Math.max(fill.choices.lowerThirdFactor, limit(FACTOR)),
                    ...(fill.choices.pattern === 'loops'
                      ? { pattern: 'straight', direction: 'contour' }
                      : {}),
                  }),
                ),
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
