import { pipeMaterial } from '../pipe-bore.ts';
import { counted, agree } from '../../wording.ts';
import { NOTHING, refsTo, says, type Rule } from './rule.ts';

const SOURCE =
  'Sunset magazine, Changing from sprinklers to drip (1987): leave old steel pipe, it sheds flakes';

/** Old steel pipe sheds rust that blocks emitters. */
export const galvanised: Rule = (input) => {
  const steel = input.laterals.filter(
    ({ material }) => material !== null && pipeMaterial(material) === 'galvanised steel',
  );
  if (steel.length === 0) return NOTHING;
  const all = steel.length === input.laterals.length;
  return says(input, {
    rule: 'galvanised',
    speaks: 'condition',
    value: steel.length,
    limit: 0,
    source: SOURCE,
    message: `${all ? 'The old lateral is' : `${counted(steel.length, 'piece')} of the old lateral ${agree(steel.length, 'is', 'are')}`} galvanised steel, which sheds flakes that clog emitters.`,
    waysOut: [
      'Run a new pipe from the valve, and leave the steel dry.',
      ...(all ? [] : ['Tie in where no steel lies between the valve and the drip.']),
    ],
    refs: refsTo('laterals', steel),
  });
};
