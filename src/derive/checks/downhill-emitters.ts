import { memo } from '../../base/memo.ts';
import type { Plan } from '../../plan/records.ts';
import { groundOf } from '../ground/index.ts';
import type { Notice, PlacedOutlet } from '../results.ts';
import { agree, counted } from '../wording.ts';
import type { Check } from './check.ts';
import { outletsOfPlants } from './plant-outlets.ts';
import { kindsOf } from './plant-without-emitter.ts';

/** Slope from which water runs away from the roots rather than to them, percent (common practice). */
const STEEP_PERCENT = 10;
/** An outlet no further down than this stands level with the stem, metres. */
const LEVEL_WITH = 0.02;

/** On a slope the water of an emitter goes downhill, so one at least belongs on the uphill side. */
export const downhillEmitters: Check = ({ plan, planNetwork }) =>
  below(plan.plants, planNetwork.outlets, plan.levels, plan.falls);

const below = memo(
  (
    plants: Plan['plants'],
    outlets: readonly PlacedOutlet[],
    levels: Plan['levels'],
    falls: Plan['falls'],
  ): Notice[] => {
    const ground = groundOf({ levels, falls });
    if (ground.knows !== 'slope') return [];
    const watered = outletsOfPlants(plants, outlets);
    const wrong = [...plants].filter((plant) => {
      const own = watered.get(plant.id);
      if (!own) return false;
      const { percent, fallDeg } = ground.slopeAt(plant.at);
      if (percent < STEEP_PERCENT) return false;
      const east = Math.cos((fallDeg * Math.PI) / 180);
      const north = Math.sin((fallDeg * Math.PI) / 180);
      return own.every(({ at }) => (at[0] - plant.at[0]) * east + (at[1] - plant.at[1]) * north > LEVEL_WITH);
    });
    if (wrong.length === 0) return [];
    return [
      {
        rule: 'emitters-downhill',
        severity: 'warning',
        message: `${counted(wrong.length, 'plant')} on a slope ${agree(wrong.length, 'has', 'have')} all emitters downhill of the stem (${kindsOf(wrong)}): move one at least to the uphill side.`,
        refs: wrong.map(({ id }) => ({ table: 'plants', id }) as const),
        source: 'common practice: on slopes of 10 percent and more emitters sit on the uphill side',
      },
    ];
  },
);
