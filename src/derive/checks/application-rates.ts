import { formatQuantity } from '../../base/quantity.ts';
import { memo } from '../../base/memo.ts';
import { boxOf, type Point } from '../../base/point.ts';
import { polygonContains } from '../../base/polygon.ts';
import type { Area, Plan, Ref } from '../../plan/records.ts';
import { plantsOf } from '../../plan/emitter-plants.ts';
import { surfacesOf } from '../existing/coverage/surfaces.ts';
import { called } from '../network/notices.ts';
import type { Notice, PlacedOutlet, PlanNetwork } from '../results.ts';
import { counted, isAbove } from '../wording.ts';
import type { Check, CheckInput, Limit, Rule } from './check.ts';
import { fedBy } from './fed-by.ts';
import { kindsOf } from './plant-without-emitter.ts';

const source =
  'Municipal Water District of Orange County, spray-to-drip pages: one rate on one valve; the ratios: common practice';
const ratio = { kind: 'percent', least: 100, most: 1000, source } as const;
const WARN: Limit = {
  ...ratio,
  key: 'rates-mixed.warning',
  label: 'Highest application rate on a valve over the lowest, warning above',
  usual: 125,
};
const ERROR: Limit = {
  ...ratio,
  key: 'rates-mixed.error',
  label: 'Highest application rate on a valve over the lowest, error above',
  usual: 200,
};

/** What gets water at a rate, mm/h over its area or canopy. */
interface Rated {
  readonly ref: Ref;
  readonly at: Point;
  readonly rateMmPerH: number;
}
interface Group {
  readonly supply: number;
  readonly kind: string;
  readonly list: readonly Rated[];
}

/** All that one valve waters runs for the same minutes, so like plants must get water at like rates. */
const rates: Check = (input) => {
  const { plan, planNetwork, limit } = input;
  const errorRatio = limit(ERROR) / 100;
  const warnRatio = Math.min(limit(WARN) / 100, errorRatio);
  const groups = [
    ...bedGroups(plan.fills, plan.runs, plan.areas, planNetwork),
    ...plantGroups(plan.plants, planNetwork),
  ];
  return groups.flatMap((group): Notice[] => {
    const low = group.list.reduce((a, b) => (b.rateMmPerH < a.rateMmPerH ? b : a));
    const high = group.list.reduce((a, b) => (b.rateMmPerH > a.rateMmPerH ? b : a));
    const found = high.rateMmPerH / low.rateMmPerH;
    if (!isAbove(found, warnRatio)) return [];
    const isError = isAbove(found, errorRatio);
    return [
      {
        rule: 'rates-mixed',
        severity: isError ? 'error' : 'warning',
        message:
          `${told(input, group, low, high)} (${found.toFixed(2)} to 1, and ${+(isError ? errorRatio : warnRatio).toFixed(2)} to 1 is the most)`.concat(
            group.kind === 'beds'
              ? ': bring flow, spacing and rows of the beds near to each other, or give one of them a valve of its own.'
              : ': give like plants like emitters, or water the thirstier ones from a valve of their own.',
          ),
        refs: [low.ref, high.ref],
        places: [low.at, high.at],
        source,
      },
    ];
  });
};

function told({ plan, planNetwork, units }: CheckInput, group: Group, low: Rated, high: Rated): string {
  const { id } = planNetwork.parts.supplies[group.supply]!;
  const valve = called(plan.supplies.get(id) ?? { id });
  const rate = ({ rateMmPerH }: Rated): string => formatQuantity('rate', rateMmPerH, units);
  if (group.kind === 'beds') {
    const bed = ({ ref }: Rated): string => called(plan.areas.get(ref.id) ?? { id: ref.id });
    return `Supply ${valve} feeds dripline that gives bed ${bed(high)} ${rate(high)} and bed ${bed(low)} ${rate(low)}`;
  }
  const plants = group.list.flatMap(({ ref }) => plan.plants.get(ref.id) ?? []);
  return `Supply ${valve} feeds ${counted(plants.length, 'plant')} of one size, class and water use (${kindsOf(plants)}) with ${rate(low)} to ${rate(high)} over their canopies`;
}

const FEWEST_CORNERS = 3;
/** Farther apart than this, lines of dripline are meant for plants, not for the bed between them, metres. */
const MOST_ROW_M = 1;

/**
 * Beds with dripline all over, by supply. The rate is flow / (row x emitter spacing) as chosen where rows were drawn by
 * choices; else the rated flow of all built-in emitters in the bed over its open ground.
 */
const bedGroups = memo(
  (
    fills: Plan['fills'],
    runs: Plan['runs'],
    areas: Plan['areas'],
    planNetwork: PlanNetwork,
  ): readonly Group[] => {
    const { supplyOfRun } = fedBy(planNetwork);
    const bySupply = new Map<number, Map<string, Rated>>();
    const add = (supply: number | undefined, area: Area, rateMmPerH: number): void => {
      if (supply === undefined || !(rateMmPerH > 0) || !Number.isFinite(rateMmPerH)) return;
      let beds = bySupply.get(supply);
      if (!beds) bySupply.set(supply, (beds = new Map<string, Rated>()));
      const ref = { table: 'areas', id: area.id } as const;
      if (!beds.has(area.id)) beds.set(area.id, { ref, at: middleOf(area), rateMmPerH });
    };
    const filled = new Set<string>();
    for (const fill of fills) {
      const area = fill.kind === 'bed' ? areas.get(fill.areaId) : undefined;
      const own = fill.runIds.filter((id) => runs.get(id)?.inline);
      // What was changed by hand is no longer as it was chosen, so it is counted.
      if (fill.kind !== 'bed' || fill.byHand) continue;
      if (!area || area.outline.length < FEWEST_CORNERS || own.length === 0) continue;
      filled.add(area.id);
      const { ratedFlowLph, rowSpacingM, emitterSpacingM } = fill.choices;
      const supply = own.map((id) => supplyOfRun.get(id)).find((found) => found !== undefined);
      add(supply, area, ratedFlowLph / (rowSpacingM * emitterSpacingM));
    }
    const byHand = [...areas].filter(
      ({ id, use, outline }) => use === 'bed' && outline.length >= FEWEST_CORNERS && !filled.has(id),
    );
    // Rings are there for their tree, not for the bed in which it stands.
    const ofTrees = new Set([...fills].flatMap(({ kind, runIds }) => (kind === 'tree' ? runIds : [])));
    const ofBeds = ofTrees.size > 0 ? runs.without([...ofTrees]) : runs;
    for (const { area, supply, flowLph, areaM2 } of flowOnBeds(byHand, areas, ofBeds, planNetwork)) {
      add(supply, area, flowLph / areaM2);
    }
    return [...bySupply].flatMap(([supply, beds]) =>
      beds.size > 1 ? [{ supply, kind: 'beds', list: [...beds.values()] }] : [],
    );
  },
);

interface BedFlow {
  readonly area: Area;
  readonly supply: number;
  readonly flowLph: number;
  readonly areaM2: number;
}

/** What built-in emitters give on beds that they cover: with rows no wider than `MOST_ROW_M` in the mean. */
function flowOnBeds(
  beds: readonly Area[],
  areas: Plan['areas'],
  runs: Plan['runs'],
  planNetwork: PlanNetwork,
): BedFlow[] {
  if (beds.length === 0) return [];
  const { supplyOfOutlet } = fedBy(planNetwork);
  const boxes = beds.map(({ outline }) => boxOf(outline)!);
  const sums = beds.map(() => ({ supply: -1, flowLph: 0, lengthM: 0 }));
  planNetwork.outlets.forEach(({ owner, at, ratedFlowLph }, i) => {
    if (owner.table !== 'runs' || !runs.has(owner.id) || supplyOfOutlet[i]! < 0) return;
    const bed = beds.findIndex(({ outline, holes }, b) => {
      const { minX, maxX, minY, maxY } = boxes[b]!;
      const isNear = at[0] >= minX && at[0] <= maxX && at[1] >= minY && at[1] <= maxY;
      return isNear && polygonContains(outline, holes, at);
    });
    if (bed < 0) return;
    const sum = sums[bed]!;
    if (sum.supply < 0) sum.supply = supplyOfOutlet[i]!;
    if (sum.supply !== supplyOfOutlet[i]) return;
    sum.flowLph += ratedFlowLph;
    sum.lengthM += runs.get(owner.id)?.inline?.spacingM ?? 0;
  });
  if (sums.every(({ supply }) => supply < 0)) return [];
  const open = new Map(surfacesOf({ areas }).beds.map(({ id, areaM2 }) => [id, areaM2]));
  return beds.flatMap((area, b) => {
    const { supply, flowLph, lengthM } = sums[b]!;
    const areaM2 = open.get(area.id) ?? 0;
    return supply >= 0 && areaM2 > 0 && areaM2 <= MOST_ROW_M * lengthM
      ? [{ area, supply, flowLph, areaM2 }]
      : [];
  });
}

function middleOf({ outline }: Area): Point {
  const { minX, maxX, minY, maxY } = boxOf(outline)!;
  return [(minX + maxX) / 2, (minY + maxY) / 2];
}

/** Canopies of one step differ by a tenth at most, so that their areas do not make a difference of a quarter. */
const CANOPY_STEP = Math.log(1.1);

/**
 * Plants with point emitters, by supply, class, water use and size, since a different one of these is a reason for a
 * different flow. The rate is rated flow over the mature canopy; what one emitter gives to several is shared evenly.
 */
const plantGroups = memo((plants: Plan['plants'], planNetwork: PlanNetwork): readonly Group[] => {
  const { supplyOfOutlet } = fedBy(planNetwork);
  const flows = new Map<string, { flowLph: number; readonly supply: number }>();
  planNetwork.outlets.forEach((outlet: PlacedOutlet, i) => {
    if (outlet.owner.table !== 'emitters' || supplyOfOutlet[i]! < 0) return;
    const ids = plantsOf(outlet);
    for (const id of ids) {
      const flow = flows.get(id);
      const share = outlet.ratedFlowLph / ids.length;
      if (!flow) flows.set(id, { flowLph: share, supply: supplyOfOutlet[i]! });
      else flow.flowLph += share;
    }
  });
  const groups = new Map<string, { readonly supply: number; readonly list: Rated[] }>();
  for (const [id, { flowLph, supply }] of flows) {
    const plant = plants.get(id);
    if (!plant || !(plant.canopyMatureM > 0)) continue;
    const { plantClass, waterUse, canopyMatureM } = plant;
    const size = Math.round(Math.log(canopyMatureM) / CANOPY_STEP);
    const key = `${supply} ${plantClass} ${waterUse} ${size}`;
    let group = groups.get(key);
    if (!group) groups.set(key, (group = { supply, list: [] }));
    group.list.push({
      ref: { table: 'plants', id },
      at: plant.at,
      rateMmPerH: flowLph / ((Math.PI / 4) * canopyMatureM ** 2),
    });
  }
  return [...groups.values()]
    .filter(({ list }) => list.length > 1)
    .map((group) => ({ ...group, kind: 'plants' }));
});

export const ratesRule: Rule = {
  number: 2,
  title: 'Like application rates on one valve',
  says: ['rates-mixed'],
  severity: 'error',
  limits: [WARN, ERROR],
  source,
  check: rates,
};
