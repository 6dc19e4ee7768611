import { boreOf } from '../pipe-bore.ts';
import { agree, counted } from '../../wording.ts';
import { allOf, lacks, NOTHING, refsTo, says, type Finding, type Rule, type ZoneInput } from './rule.ts';

/** Pipe that was not found, or whose bore is not known: never close a bed on a guess. */
export const unknownPipe: Rule = (input) => {
  if (input.laterals.length === 0) {
    return lacks('The run of the old lateral from the valve, by tracing or by exposing two or three heads.');
  }
  return allOf(assumed(input), withoutBore(input));
};

function assumed(input: ZoneInput): Finding {
  const guessed = input.laterals.filter(({ measured }) => !measured);
  if (guessed.length === 0) return NOTHING;
  return says(input, {
    rule: 'unknown-pipe',
    speaks: 'condition',
    value: guessed.length,
    limit: 0,
    source: 'common practice: never close a bed on a guess',
    message: `${guessed.length} of ${counted(input.laterals.length, 'piece')} of the old lateral ${agree(guessed.length, 'is', 'are')} assumed and not found on the ground.`,
    waysOut: [
      'Trace or probe the assumed pipe by hand, after buried utilities have been marked.',
      'Tie in on the valve side of what is not known.',
    ],
    refs: refsTo('laterals', guessed),
  });
}

function withoutBore({ laterals }: ZoneInput): Finding {
  const open = laterals.filter(({ size, material }) => !boreOf(size, material)).length;
  return open > 0 ? lacks('Size and material of every piece of the old lateral.') : NOTHING;
}
