import Flatbush from 'flatbush';
import { memo } from '../../base/memo.ts';
import { distance } from '../../base/point.ts';
import { formatQuantity } from '../../base/quantity.ts';
import { FOOT_M } from '../../base/units.ts';
import type { Plan, Plant } from '../../plan/records.ts';
import type { PlacedOutlet } from '../results.ts';
import { agree, counted, isBelow, twoFigures } from '../wording.ts';
import type { Limit, Rule } from './check.ts';
import { kindsOf } from './plant-without-emitter.ts';

const SOURCE =
  'landscape contractor, four drip mistakes: 6 in or more from the stem; 12 in from a trunk: common practice';

const STEM: Limit = {
  key: 'emitter-near-stem.plant',
  label: 'Emitter from a stem, at least',
  kind: 'spacing',
  usual: FOOT_M / 2,
  least: 0,
  most: 2,
  source: SOURCE,
};
const TRUNK: Limit = {
  key: 'emitter-near-stem.trunk',
  label: 'Emitter from a trunk, at least',
  kind: 'spacing',
  usual: FOOT_M,
  least: 0,
  most: 3,
  source: SOURCE,
};

/**
 * Point emitters and tree dripline that keep a stem wet. A grid of dripline cannot pass by every small plant, so
 * built-in emitters are held against trunks only. On a new plant the emitter has to sit on its root ball, so the half
 * width of a known ball is the most that is asked.
 */
const near = memo(
  (plants: Plan['plants'], outlets: readonly PlacedOutlet[], stemM: number, trunkM: number) => {
    const found = {
      plants: new Map<string, Plant>(),
      outlets: new Set<PlacedOutlet>(),
      nearestM: Infinity,
      /** What is wanted at the nearest. */
      wantedM: 0,
    };
    if (plants.size === 0 || outlets.length === 0) return found;
    const list = plants.toArray().filter(({ at }) => at.every(Number.isFinite));
    if (list.length === 0) return found;
    const index = new Flatbush(list.length);
    for (const { at } of list) index.add(at[0], at[1], at[0], at[1]);
    index.finish();
    const most = Math.max(stemM, trunkM);
    for (const outlet of outlets) {
      const [x, y] = outlet.at;
      for (const i of index.search(x - most, y - most, x + most, y + most)) {
        const plant = list[i]!;
        const isTree = plant.plantClass === 'tree';
        if (!isTree && outlet.owner.table === 'runs') continue;
        const usual = isTree ? trunkM : stemM;
        const wanted = plant.rootBallM === null ? usual : Math.min(usual, plant.rootBallM / 2);
        const away = distance(plant.at, outlet.at);
        if (!isBelow(away, wanted)) continue;
        found.plants.set(plant.id, plant);
        found.outlets.add(outlet);
        if (away < found.nearestM) [found.nearestM, found.wantedM] = [away, wanted];
      }
    }
    return found;
  },
);

export const emitterNearStem: Rule = {
  number: 21,
  title: 'Emitters off the stem',
  says: ['emitter-near-stem'],
  severity: 'warning',
  limits: [STEM, TRUNK],
  source: SOURCE,
  check: ({ plan, planNetwork, units, limit }) => {
    const found = near(plan.plants, planNetwork.outlets, limit(STEM), limit(TRUNK));
    const plants = [...found.plants.values()];
    const count = plants.length;
    if (count === 0) return [];
    const outlets = [...found.outlets];
    const [is, asked] = twoFigures('spacing', found.nearestM, found.wantedM, units);
    const trees = plants.some(({ plantClass }) => plantClass === 'tree');
    const others = plants.some(({ plantClass }) => plantClass !== 'tree');
    const away = [
      ...(others ? [`${formatQuantity('spacing', limit(STEM), units)} or more away from a stem`] : []),
      ...(trees ? [`${formatQuantity('spacing', limit(TRUNK), units)} or more from a trunk`] : []),
    ];
    const emitters = outlets.filter(({ owner }) => owner.table === 'emitters');
    return [
      {
        rule: 'emitter-near-stem',
        severity: 'warning',
        message: `${counted(outlets.length, 'emitter')} ${agree(outlets.length, 'wets', 'wet')} the stem of ${counted(count, 'plant')} (${kindsOf(plants)}), the nearest at ${is} where ${asked} is asked: a stem kept wet rots. Move ${agree(outlets.length, 'it', 'them')} ${away.join(', ')}.`,
        refs: [
          ...plants.map(({ id }) => ({ table: 'plants', id }) as const),
          ...emitters.map(({ owner }) => owner),
        ],
        places: outlets.map(({ at }) => at),
        source: SOURCE,
      },
    ];
  },
};
