import { memo } from '../../base/memo.ts';
import type { Plan, Plant, WaterUse } from '../../plan/records.ts';
import { called } from '../network/notices.ts';
import type { Notice, PlanNetwork } from '../results.ts';
import type { Rule } from './check.ts';
import { supplyOutlets } from './drip-groups.ts';
import { outletsOfPlants } from './plant-outlets.ts';

const SOURCE =
  'model water ordinance text of 2009 (Santa Ana CA): low and high water use not on one valve, neighbours only at the need of the thirstier';

/** From the thirstiest down. */
const ORDER: readonly WaterUse[] = ['high', 'moderate', 'low', 'very low'];

interface Mixed {
  readonly supplyId: string;
  /** Classes that occur, the thirstiest first. */
  readonly classes: readonly { readonly use: WaterUse; readonly plants: readonly Plant[] }[];
}

/** Valves on which drip waters plants of several classes; by the outlets drawn, not by where the old heads stood. */
const mixedOf = memo((plants: Plan['plants'], planNetwork: PlanNetwork): Mixed[] => {
  const { outlets } = planNetwork;
  const valvesOf = new Map<(typeof outlets)[number], string[]>();
  for (const [supplyId, own] of supplyOutlets(planNetwork)) {
    for (const i of own) valvesOf.set(outlets[i]!, [...(valvesOf.get(outlets[i]!) ?? []), supplyId]);
  }
  const byValve = new Map<string, Map<WaterUse, Plant[]>>();
  for (const [plantId, own] of outletsOfPlants(plants, outlets)) {
    const plant = plants.get(plantId)!;
    if (plant.waterUse === null) continue;
    // An emitter set for the plant tells its valve; else all that reach it do.
    const named = own.filter((outlet) => outlet.plantId === plantId);
    const valves = new Set((named.length > 0 ? named : own).flatMap((outlet) => valvesOf.get(outlet) ?? []));
    for (const valve of valves) {
      let classes = byValve.get(valve);
      if (!classes) byValve.set(valve, (classes = new Map<WaterUse, Plant[]>()));
      const list = classes.get(plant.waterUse);
      if (list) list.push(plant);
      else classes.set(plant.waterUse, [plant]);
    }
  }
  return [...byValve].flatMap(([supplyId, classes]) =>
    classes.size > 1
      ? [
          {
            supplyId,
            classes: ORDER.flatMap((use) => (classes.has(use) ? [{ use, plants: classes.get(use)! }] : [])),
          },
        ]
      : [],
  );
});

export const waterUseMixed: Rule = {
  number: 37,
  title: 'Water-use classes on one valve',
  says: ['water-use-mixed'],
  severity: 'error',
  limits: [],
  source: SOURCE,
  check: ({ plan, planNetwork }) =>
    mixedOf(plan.plants, planNetwork).map(({ supplyId, classes }): Notice => {
      const uses = classes.map(({ use }) => use);
      const clash = uses.includes('high') && (uses.includes('low') || uses.includes('very low'));
      const fewer = classes.reduce((a, b) => (b.plants.length < a.plants.length ? b : a));
      const list = classes.map(({ use, plants }) => `${plants.length} ${use}`).join(', ');
      const valve = called(plan.supplies.get(supplyId) ?? { id: supplyId });
      return {
        rule: 'water-use-mixed',
        severity: clash ? 'error' : 'warning',
        message: clash
          ? `Valve ${valve} waters plants of high and of low water use (${list}): one run time suits neither. Put the ${fewer.plants.length} of ${fewer.use} water use on another valve.`
          : `Valve ${valve} waters plants of several water-use classes (${list}): give each emitters for its need, and reckon the minutes for the thirstier.`,
        refs: [
          { table: 'supplies', id: supplyId },
          ...fewer.plants.map(({ id }) => ({ table: 'plants', id }) as const),
        ],
        source: SOURCE,
      };
    }),
};
