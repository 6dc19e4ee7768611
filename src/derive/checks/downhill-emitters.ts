import { memo } from '../../base/memo.ts';
import { plantsOf } from '../../plan/emitter-plants.ts';
import type { Plan } from '../../plan/records.ts';
import { groundOf } from '../ground/index.ts';
import type { PlacedOutlet } from '../results.ts';
import { agree, counted } from '../wording.ts';
import type { Limit, Rule } from './check.ts';
import { outletsOfPlants } from './plant-outlets.ts';
import { kindsOf } from './plant-without-emitter.ts';

const SOURCE =
  'landscape blog, Watering Hillside Landscaping (2006), and Albuquerque-area water authority, watering on a slope (2023): emitters on the uphill side; share and slope: common practice';

const SLOPE: Limit = {
  key: 'emitters-downhill.slope',
  label: 'Slope from which the uphill side counts',
  kind: 'slope',
  usual: 5,
  least: 0,
  most: 100,
  source: 'common practice',
};
const SHARE: Limit = {
  key: 'emitters-downhill.share',
  label: 'Share of a plant’s emitters that may lie downhill',
  kind: 'percent',
  usual: 50,
  least: 0,
  most: 100,
  source: SOURCE,
};

/** An outlet no further down than this stands level with the stem, metres. */
const LEVEL_WITH = 0.02;

/** Plants with too many emitters downhill; of dripline in rows at least one emitter has to lie uphill. */
const below = memo(
  (
    plants: Plan['plants'],
    outlets: readonly PlacedOutlet[],
    levels: Plan['levels'],
    falls: Plan['falls'],
    steepPercent: number,
    mostShare: number,
  ) => {
    const ground = groundOf({ levels, falls });
    if (ground.knows !== 'slope') return [];
    const watered = outletsOfPlants(plants, outlets);
    return [...plants].filter((plant) => {
      const reaching = watered.get(plant.id);
      if (!reaching) return false;
      const { percent, fallDeg } = ground.slopeAt(plant.at);
      if (percent <= steepPercent) return false;
      const east = Math.cos((fallDeg * Math.PI) / 180);
      const north = Math.sin((fallDeg * Math.PI) / 180);
      const isDown = ({ at }: PlacedOutlet): boolean =>
        (at[0] - plant.at[0]) * east + (at[1] - plant.at[1]) * north > LEVEL_WITH;
      const own = reaching.filter((outlet) => plantsOf(outlet).includes(plant.id));
      // An emitter that is there for a neighbour says nothing of this plant, as long as it has some of its own.
      const forAll = reaching.filter((outlet) => plantsOf(outlet).length === 0);
      const all = own.length + forAll.length > 0 ? [...own, ...forAll] : reaching;
      if (all.every(isDown)) return mostShare < 1;
      if (own.length < all.length) return false;
      // Of an odd number the one in the middle may lie either side.
      return own.filter(isDown).length > Math.ceil(own.length * mostShare);
    });
  },
);

/** On a slope the water of an emitter goes downhill, so half of them at least belong on the uphill side. */
export const downhillEmitters: Rule = {
  number: 22,
  title: 'Emitters on the uphill side',
  says: ['emitters-downhill'],
  severity: 'warning',
  limits: [SLOPE, SHARE],
  source: SOURCE,
  check: ({ plan, planNetwork, limit }) => {
    const wrong = below(
      plan.plants,
      planNetwork.outlets,
      plan.levels,
      plan.falls,
      limit(SLOPE),
      limit(SHARE) / 100,
    );
    if (wrong.length === 0) return [];
    return [
      {
        rule: 'emitters-downhill',
        severity: 'warning',
        message: `${counted(wrong.length, 'plant')} on a slope ${agree(wrong.length, 'has', 'have')} most or all emitters downhill of the stem (${kindsOf(wrong)}): move emitters to the uphill side, so that half of them lie there.`,
        refs: wrong.map(({ id }) => ({ table: 'plants', id }) as const),
        source: SOURCE,
      },
    ];
  },
};
