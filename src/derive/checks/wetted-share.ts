import type { Plant } from '../../plan/records.ts';
import { rootShares } from '../wetting/index.ts';
import type { Notice, PlacedOutlet } from '../results.ts';
import { agree, counted } from '../wording.ts';
import type { Check, Limit, Rule } from './check.ts';
import { outletsOfPlants } from './plant-outlets.ts';
import { kindsOf } from './plant-without-emitter.ts';

const source =
  'Southern Nevada Water Authority, tree irrigation: 50 to 75 % of the canopy area of a tree; the share for shrubs: common practice';
const share = { kind: 'percent', least: 0, most: 100, source } as const;
const SHRUB: Limit = {
  ...share,
  key: 'wetted-share.shrub',
  label: "Wetted share of a shrub's root zone",
  usual: 50,
};
const TREE: Limit = {
  ...share,
  key: 'wetted-share.tree',
  label: "Wetted share of a tree's root zone",
  usual: 50,
};
const AIM: Limit = { ...share, key: 'wetted-share.tree-aim', label: 'Share to aim at for trees', usual: 75 };

interface Short {
  readonly plant: Plant;
  readonly now: number | null;
  readonly mature: number;
}

/**
 * Roots live where water comes. The root zone as it is now and as it will be are both looked at; plants that no outlet
 * reaches at all are told by another rule.
 */
const wettedShare: Check = ({ plan, planNetwork, results, limit }) => {
  if (plan.plants.size === 0 || results.outlets.length === 0) return [];
  const shares = rootShares(plan, results.outlets);
  const watered = outletsOfPlants(plan.plants, planNetwork.outlets);
  // Where no water comes, more emitters are no help: another rule tells of the pressure.
  const withoutWater = new Set<PlacedOutlet>();
  results.outlets.forEach(({ state }, i) => {
    if (state === 'dry' || state === 'apart') withoutWater.add(planNetwork.outlets[i]!);
  });
  const short: Record<'tree' | 'shrub' | 'aim', Short[]> = { tree: [], shrub: [], aim: [] };
  const [treePercent, shrubPercent, aimPercent] = [limit(TREE), limit(SHRUB), limit(AIM)];
  for (const plant of plan.plants) {
    const { plantClass } = plant;
    if (plantClass !== 'tree' && plantClass !== 'shrub') continue;
    const own = watered.get(plant.id);
    if (!own || own.some((outlet) => withoutWater.has(outlet))) continue;
    const found = shares.get(plant.id);
    if (!found) continue;
    const one = { plant, now: found.now && 100 * found.now, mature: 100 * found.mature };
    const least = leastOf(one);
    if (isUnder(least, plantClass === 'tree' ? treePercent : shrubPercent)) short[plantClass].push(one);
    else if (plantClass === 'tree' && isUnder(least, aimPercent)) short.aim.push(one);
  }
  return [
    ...told(short.tree, 'warning', 'tree', `under ${+treePercent.toFixed(1)} %`),
    ...told(short.shrub, 'warning', 'shrub', `under ${+shrubPercent.toFixed(1)} %`),
    ...told(short.aim, 'info', 'tree', `and ${+aimPercent.toFixed(1)} % is to be aimed at`),
  ];
};

const leastOf = ({ now, mature }: Omit<Short, 'plant'>): number => Math.min(now ?? mature, mature);
/** Shares are computed within one percent. */
const isUnder = (percent: number, limit: number): boolean => percent < limit - 1;

function told(list: readonly Short[], severity: Notice['severity'], word: string, against: string): Notice[] {
  if (list.length === 0) return [];
  const least = list.reduce((a, b) => (leastOf(b) < leastOf(a) ? b : a));
  const figures =
    least.now === null
      ? `${Math.round(least.mature)} % at maturity`
      : `${Math.round(least.now)} % now and ${Math.round(least.mature)} % at maturity`;
  const plants = list.map(({ plant }) => plant);
  return [
    {
      rule: 'wetted-share',
      severity,
      message: `Emitters wet too little of the root zone of ${counted(list.length, word)}${kindsOf(plants) === word ? '' : ` (${kindsOf(plants)})`}, at the least ${figures}, ${against}: give ${agree(list.length, 'it', 'them')} more emitters farther apart, or ${word === 'tree' ? 'rings of dripline' : 'dripline'}.`,
      refs: plants.map(({ id }) => ({ table: 'plants', id }) as const),
      source,
    },
  ];
}

export const wettedShareRule: Rule = {
  number: 20,
  title: 'Wetted share of the root zone',
  says: ['wetted-share'],
  severity: 'warning',
  limits: [SHRUB, TREE, AIM],
  source,
  check: wettedShare,
};
