import type { Plant, WaterUse } from '../../../plan/records.ts';
import { counted } from '../../wording.ts';
import {
  allOf,
  clears,
  lacks,
  NOTHING,
  refsTo,
  says,
  type Finding,
  type Rule,
  type ZoneInput,
} from './rule.ts';

const SOURCE =
  'model water ordinance text of 2009 (Santa Ana CA): low and high water use not on one valve, neighbours only at the need of the thirstier';

/** From the thirstiest down. */
const ORDER: readonly WaterUse[] = ['high', 'moderate', 'low', 'very low'];

/** Plants that need very different water cannot share a valve, by spray or by drip. */
export const mixedWaterUse: Rule = (input) => {
  const counts = ORDER.flatMap((use): Group[] => {
    const own = input.plants.filter(({ waterUse }) => waterUse === use);
    const listed = input.kinds.filter(({ waterUse }) => waterUse === use);
    const count = own.length + listed.reduce((sum, kind) => sum + kind.count, 0);
    return count > 0 ? [{ use, own, count }] : [];
  });
  return allOf(notKnown(input), counts.length > 1 ? mixed(input, counts) : alike(input, counts));
};

/** The plants of one class: those that have a place, and how many with those of the plant list. */
interface Group {
  readonly use: WaterUse;
  readonly own: readonly Plant[];
  readonly count: number;
}
type Counts = readonly Group[];

function mixed(input: ZoneInput, counts: Counts): Finding {
  const thirsty = counts[0]!;
  const frugal = counts.at(-1)!;
  const list = counts.map(({ use, count }) => `${count} ${use}`).join(', ');
  const clash = thirsty.use === 'high' && (frugal.use === 'low' || frugal.use === 'very low');
  // Select the smaller group: that is the one to move.
  const fewer = [...counts].sort((a, b) => a.count - b.count)[0]!;
  const found = {
    rule: 'mixed-water-use',
    value: counts.length,
    limit: 1,
    source: SOURCE,
    refs: refsTo('plants', fewer.own),
  } as const;
  if (clash) {
    return says(input, {
      ...found,
      speaks: 'against',
      blocks: true,
      message: `Plants of high and of ${frugal.use} water use share this valve (${list}): one run time suits neither.`,
      waysOut: [
        `Put the ${counted(fewer.count, 'plant')} of ${fewer.use} water use on another valve.`,
        'Replace the plants of one class with ones that need as much as the others.',
        'Ask a nursery whether the water-use class of the plants is right for this place.',
      ],
    });
  }
  return says(input, {
    ...found,
    speaks: 'condition',
    message: `Plants of ${counts
      .map(({ use }) => use)
      .join(', ')
      .replace(
        /, (?=[^,]*$)/,
        ' and ',
      )} water use share this valve (${list}): give each plant emitters for its need, and run the valve for the thirstier.`,
    waysOut: [`Give the plants of ${thirsty.use} water use more or larger emitters than the others.`],
  });
}

function alike(input: ZoneInput, counts: Counts): Finding {
  const only = counts[0];
  if (!only) return NOTHING;
  return clears(input, {
    rule: 'mixed-water-use',
    value: 1,
    limit: 1,
    source: SOURCE,
    message: `All plants whose water use is known need alike (${only.count} ${only.use}).`,
    refs: [],
  });
}

function notKnown({ plants, kinds }: ZoneInput): Finding {
  const isOpen = [...plants, ...kinds].some(({ waterUse }) => waterUse === null);
  return isOpen ? lacks('Water-use class of the plants (high, moderate, low, very low).') : NOTHING;
}
