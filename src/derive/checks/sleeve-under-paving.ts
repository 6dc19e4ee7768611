import { crossingShares } from '../../base/polyline.ts';
import { memo } from '../../base/memo.ts';
import { between, boxOf, distance, type Path, type Point } from '../../base/point.ts';
import { polygonContains } from '../../base/polygon.ts';
import type { Area, Plan } from '../../plan/records.ts';
import { called } from '../network/notices.ts';
import type { Notice } from '../results.ts';
import { agree, listed } from '../wording.ts';
import type { Check, Rule } from './check.ts';

/** Tubing that only brushes the edge of paving by no more than this needs no sleeve, metres. */
const BRUSHES = 0.05;

/** Tubing under paving can only be drawn out again through a sleeve. */
export const sleeveUnderPaving: Check = ({ plan }) => under(plan.runs, plan.areas);

const under = memo((runs: Plan['runs'], areas: Plan['areas']): Notice[] => {
  const paving = [...areas].filter((area) => area.use === 'paving' && area.outline.length >= 3);
  if (paving.length === 0) return [];
  const crossing = [...runs].filter((run) => paving.some((area) => lengthWithin(run.path, area) > BRUSHES));
  if (crossing.length === 0) return [];
  return [
    {
      rule: 'sleeve-under-paving',
      severity: 'info',
      message: `${agree(crossing.length, 'Run', 'Runs')} ${listed(crossing.map(called))} ${agree(crossing.length, 'passes', 'pass')} under paving: it needs a sleeve twice the pipe's diameter. Have buried utilities marked before anyone digs.`,
      refs: crossing.map(({ id }) => ({ table: 'runs', id }) as const),
      source: 'Los Angeles Bureau of Street Services, irrigation notes, 2023',
    },
  ];
});

/** Length of a path over an area, metres in plan. */
export function lengthWithin(path: Path, area: Pick<Area, 'outline' | 'holes'>): number {
  const box = boxOf(area.outline);
  if (!box) return 0;
  const rings = [area.outline, ...area.holes];
  let sum = 0;
  for (let k = 0; k + 1 < path.length; k++) {
    const a = path[k]!;
    const b = path[k + 1]!;
    const isOff =
      Math.max(a[0], b[0]) < box.minX ||
      Math.min(a[0], b[0]) > box.maxX ||
      Math.max(a[1], b[1]) < box.minY ||
      Math.min(a[1], b[1]) > box.maxY;
    if (isOff) continue;
    const cuts = [0, 1, ...rings.flatMap((ring) => cutsOf(a, b, ring))].sort((p, q) => p - q);
    for (let i = 0; i + 1 < cuts.length; i++) {
      const middle = between(a, b, (cuts[i]! + cuts[i + 1]!) / 2);
      if (polygonContains(area.outline, area.holes, middle)) {
        sum += (cuts[i + 1]! - cuts[i]!) * distance(a, b);
      }
    }
  }
  return sum;
}

/** Shares of the way from a to b at which a ring is crossed. */
function cutsOf(a: Point, b: Point, ring: readonly Point[]): number[] {
  return ring.flatMap((p, i) => crossingShares(a, b, p, ring[(i + 1) % ring.length]!));
}

export const sleeveUnderPavingRule: Rule = {
  number: null,
  title: 'Sleeves under paving',
  says: ['sleeve-under-paving'],
  severity: 'info',
  limits: [],
  source: 'Los Angeles Bureau of Street Services, irrigation notes, 2023',
  check: sleeveUnderPaving,
};
