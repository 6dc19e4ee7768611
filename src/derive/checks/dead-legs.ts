import { memo } from '../../base/memo.ts';
import { formatQuantity } from '../../base/quantity.ts';
import { FOOT_M, GALLON_L } from '../../base/units.ts';
import { distance } from '../../base/point.ts';
import { ONE_JOINT_M, zonesAgree } from '../../plan/joining.ts';
import type { LateralPipe, Plan } from '../../plan/records.ts';
import { boreOf, litresIn } from '../existing/pipe-bore.ts';
import { groundOf } from '../ground/index.ts';
import { UnionFind } from '../network/union-find.ts';
import type { Notice } from '../results.ts';
import { agree, counted, isAbove } from '../wording.ts';
import type { CheckInput, Limit, Rule } from './check.ts';

const SOURCE =
  'common practice: dead legs over 0.5 gal or 10 ft are cut at the tee, over 0.1 gal worth a word';

const LENGTH: Limit = {
  key: 'dead-leg.length',
  label: 'Length of a dead leg left uncut',
  kind: 'length',
  usual: 10 * FOOT_M,
  least: 0,
  most: 100,
  source: 'common practice',
};
const VOLUME: Limit = {
  key: 'dead-leg.volume',
  label: 'Water in a dead leg left uncut',
  kind: 'volume',
  usual: 0.5 * GALLON_L,
  least: 0,
  most: 100,
  source: 'common practice',
};
const TOLD: Limit = {
  key: 'dead-leg.told',
  label: 'Water in a dead leg worth a word',
  kind: 'volume',
  usual: 0.1 * GALLON_L,
  least: 0,
  most: 100,
  source: 'common practice',
};

interface Leg {
  readonly pipes: readonly LateralPipe[];
  readonly lengthM: number;
  /** Pipe of unknown bore counts with nothing. */
  readonly volumeL: number;
}

/** Old pipe that stays joined and holds still water, in one piece each, on the ground. */
const legsOf = memo((laterals: Plan['laterals'], levels: Plan['levels'], falls: Plan['falls']): Leg[] => {
  const dead = [...laterals].filter(({ fate }) => fate === 'dead');
  const joined = new UnionFind(dead.length);
  const live = [...laterals].filter(({ fate }) => fate !== 'dead' && fate !== 'cut off');
  const ends = ({ from, to, a, b }: LateralPipe) => [
    { name: from, at: a },
    { name: to, at: b },
  ];
  // Legs that hang on one live joint are legs of their own: each is cut apart.
  const liveEnds = live.flatMap((pipe) => ends(pipe).map((end) => ({ ...end, zone: pipe.zone })));
  for (let i = 0; i < dead.length; i++) {
    for (let j = i + 1; j < dead.length; j++) {
      if (!zonesAgree(dead[i]!.zone, dead[j]!.zone)) continue;
      const meets = ends(dead[i]!).some((one) =>
        ends(dead[j]!).some(
          (other) =>
            (one.name === other.name || distance(one.at, other.at) <= ONE_JOINT_M) &&
            !liveEnds.some(
              ({ name, at, zone }) =>
                zonesAgree(zone, dead[i]!.zone) && (name === one.name || distance(at, one.at) <= ONE_JOINT_M),
            ),
        ),
      );
      if (meets) joined.join(i, j);
    }
  }
  const ground = groundOf({ levels, falls });
  const byRoot = new Map<number, LateralPipe[]>();
  dead.forEach((pipe, i) => {
    const root = joined.root(i);
    byRoot.set(root, [...(byRoot.get(root) ?? []), pipe]);
  });
  return [...byRoot.values()].map((pipes) => {
    let lengthM = 0;
    let volumeL = 0;
    for (const { a, b, size, material } of pipes) {
      const own = ground.surfaceLength([a, b]);
      const bore = boreOf(size, material);
      lengthM += own;
      if (bore) volumeL += litresIn(bore.innerDiameterMm, own);
    }
    return { pipes, lengthM, volumeL };
  });
});

/** Old pipe in which water stands between the runs: it goes foul, and breeds what clogs emitters. */
export const deadLegs: Rule = {
  number: 31,
  title: 'Dead legs of old pipe',
  says: ['dead-leg'],
  severity: 'error',
  limits: [LENGTH, VOLUME, TOLD],
  source: SOURCE,
  check: (input) => {
    const { plan, limit } = input;
    const legs = legsOf(plan.laterals, plan.levels, plan.falls);
    const isLong = ({ lengthM, volumeL }: Leg): boolean =>
      isAbove(lengthM, limit(LENGTH)) || isAbove(volumeL, limit(VOLUME));
    return [
      ...told(input, legs.filter(isLong), 'error'),
      ...told(
        input,
        legs.filter((leg) => !isLong(leg) && isAbove(leg.volumeL, limit(TOLD))),
        'info',
      ),
    ];
  },
};

function told({ units }: CheckInput, legs: readonly Leg[], severity: 'error' | 'info'): Notice[] {
  if (legs.length === 0) return [];
  const pipes = legs.flatMap((leg) => leg.pipes);
  const longest = legs.reduce((a, b) => (b.lengthM > a.lengthM ? b : a));
  const volumeL = legs.reduce((sum, leg) => sum + leg.volumeL, 0);
  const ids = pipes.map(({ id }) => id);
  return [
    {
      rule: 'dead-leg',
      severity,
      message: `${counted(legs.length, 'dead leg')} of old pipe ${agree(legs.length, 'stays', 'stay')} joined (the longest ${longest.pipes
        .map(({ from, to }) => `${from} to ${to}`)
        .slice(0, 3)
        .join(
          ', ',
        )}, ${formatQuantity('length', longest.lengthM, units)}), with ${formatQuantity('volume', volumeL, units)} of water that never moves: cut ${agree(legs.length, 'it', 'them')} off at the tee and cap there.`,
      refs: ids.map((id) => ({ table: 'laterals', id }) as const),
      source: SOURCE,
      fix: {
        label: legs.length === 1 ? 'Cut it off at the tee' : 'Cut them off at their tees',
        changes: [{ kind: 'set', table: 'laterals', ids, fields: { fate: 'cut off' } }],
      },
    },
  ];
}
