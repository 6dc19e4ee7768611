import { formatQuantity } from '../../base/quantity.ts';
import { FOOT_M } from '../../base/units.ts';
import type { Point } from '../../base/point.ts';
import type { Plan, Plant } from '../../plan/records.ts';
import { STEM_CLEARANCE_M } from '../root-zone.ts';
import type { PlacedOutlet, RecordChange } from '../results.ts';
import { agree, counted } from '../wording.ts';
import type { Check, Limit, Rule } from './check.ts';
import { outletsOfPlants } from './plant-outlets.ts';
import { kindsOf } from './plant-without-emitter.ts';

const source =
  'University of Arizona Cooperative Extension, Designing a Landscape Drip Irrigation System: at least two emitters, so that one that clogs does not kill the plant; canopy over 2 ft: common practice';
const CANOPY: Limit = {
  key: 'plant-one-emitter.canopy',
  label: 'Mature canopy above which one emitter is too few',
  kind: 'length',
  usual: 2 * FOOT_M,
  least: 0,
  most: 30,
  source,
};
const LEAST: Limit = {
  key: 'plant-one-emitter.least',
  label: 'Emitters for a plant of that size, at least',
  kind: 'count',
  usual: 2,
  least: 1,
  most: 20,
  source,
};

/** A plant that hangs on a single emitter dies when it clogs, and grows roots on one side only. */
const plantOneEmitter: Check = ({ plan, planNetwork, units, limit }) => {
  const overM = limit(CANOPY) + 1e-6;
  const least = limit(LEAST);
  const watered = outletsOfPlants(plan.plants, planNetwork.outlets);
  const few: { readonly plant: Plant; readonly outlets: readonly PlacedOutlet[] }[] = [];
  for (const [id, outlets] of watered) {
    const plant = plan.plants.get(id);
    // Dripline gives water on either side of an emitter that clogs; what it wets is told by the wetted share.
    const fromLine = outlets.some(({ owner }) => owner.table === 'runs');
    if (plant && !fromLine && outlets.length < least && plant.canopyMatureM > overM)
      few.push({ plant, outlets });
  }
  if (few.length === 0) return [];
  const plants = few.map(({ plant }) => plant);
  const changes = few.flatMap(({ plant, outlets }) => added(plan, plant, outlets, least));
  const size = formatQuantity('length', limit(CANOPY), units);
  return [
    {
      rule: 'plant-one-emitter',
      severity: 'warning',
      message: `${counted(plants.length, 'plant')} with a mature canopy over ${size} ${agree(plants.length, 'has', 'have')} fewer than ${counted(least, 'emitter')} (${kindsOf(plants)}): give ${agree(plants.length, 'it', 'each')} ${least === 2 ? 'a second one on the other side of the stem' : 'more, spread about the stem'}.`,
      refs: plants.map(({ id }) => ({ table: 'plants', id }) as const),
      source,
      ...(changes.length > 0 ? { fix: { label: `Add ${counted(changes.length, 'emitter')}`, changes } } : {}),
    },
  ];
};

/** More like the point emitter that a plant has, evenly about the stem. */
function added(
  plan: Plan,
  plant: Plant,
  outlets: readonly PlacedOutlet[],
  least: number,
): readonly RecordChange[] {
  const emitter = plan.emitters.get(outlets[0]!.owner.id);
  if (!emitter) return [];
  const [x, y] = plant.at;
  const dx = emitter.at[0] - x;
  const dy = emitter.at[1] - y;
  const radiusM = Math.max(Math.hypot(dx, dy), STEM_CLEARANCE_M, plant.canopyMatureM / 8);
  const turn = Math.atan2(dy, dx);
  return Array.from({ length: least - outlets.length }, (_, k): RecordChange => {
    const angle = turn + (2 * Math.PI * (k + outlets.length)) / least;
    const at: Point = [x + radiusM * Math.cos(angle), y + radiusM * Math.sin(angle)];
    const { runId, law, ratedFlowLph } = emitter;
    return {
      kind: 'add',
      table: 'emitters',
      record: { runId, at, plantId: plant.id, law, ratedFlowLph },
    };
  });
}

export const plantOneEmitterRule: Rule = {
  number: 18,
  title: 'More than one emitter for each larger plant',
  says: ['plant-one-emitter'],
  severity: 'warning',
  limits: [CANOPY, LEAST],
  source,
  check: plantOneEmitter,
};
