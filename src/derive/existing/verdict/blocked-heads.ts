import { distance } from '../../../base/point.ts';
import { agree, counted, listed } from '../../wording.ts';
import { allOf, lacks, NOTHING, refsTo, says, type Finding, type Rule, type ZoneInput } from './rule.ts';

const SOURCE =
  'common practice; Yolo County CA 8-3.109 then asks for drip at the plants; head heights are not part of the survey';

/** Plants or things in the spray: heads found blocked, and heads over which a shrub will have grown. */
export const blockedHeads: Rule = (input) => allOf(found(input), growingIn(input), notLookedAt(input));

function found(input: ZoneInput): Finding {
  const blocked = input.bedHeads.filter((head) => head.blocked === true);
  if (blocked.length === 0) return NOTHING;
  return says(input, {
    rule: 'blocked-heads',
    speaks: 'for',
    value: blocked.length,
    limit: 0,
    source: SOURCE,
    message: `The spray of ${counted(blocked.length, 'head')} (${listed(blocked.map(({ id }) => id))}) is blocked by plants or things; drip waters behind them.`,
    refs: refsTo('heads', blocked),
  });
}

function growingIn(input: ZoneInput): Finding {
  // The shrubs near a head are those of its zone.
  const shrubs = input.plants.filter(({ plantClass }) => plantClass === 'shrub');
  const heads = input.bedHeads.filter(
    ({ at, blocked }) =>
      blocked !== true && shrubs.some((shrub) => distance(shrub.at, at) < shrub.canopyMatureM / 2),
  );
  if (heads.length === 0) return NOTHING;
  return says(input, {
    rule: 'blocked-heads',
    speaks: 'for',
    value: heads.length,
    limit: 0,
    source: SOURCE,
    message: `${counted(heads.length, 'head')} (${listed(heads.map(({ id }) => id))}) ${agree(heads.length, 'stands', 'stand')} inside the mature canopy of a shrub, which will block the spray.`,
    refs: refsTo('heads', heads),
  });
}

function notLookedAt({ bedHeads }: ZoneInput): Finding {
  const open = bedHeads.filter(({ blocked }) => blocked === null).length;
  return open > 0 ? lacks('Whether plants or things block the spray of each head.') : NOTHING;
}
