import { agree, counted, listed } from '../../wording.ts';
import { NOTHING, refsTo, says, type Rule } from './rule.ts';

/** Also the source of the check on heads that stay beside drip. */
const SOURCE =
  'rebate void: Municipal Water District of Orange County CA, spray-to-drip pages; no high and low flow on one valve: Scotts Valley CA Water District rebates, La Verkin UT 8-8-4-3';

const WAYS_OUT = [
  'Convert all heads of this valve to drip.',
  'Move the heads that stay to another valve.',
  'Give the drip a valve of its own; a new valve opens the pressure pipe, so ask about licence, permit and the backflow preventer first, and have buried lines marked before digging.',
  'Change the lawn too, and convert everything.',
] as const;

/** Heads that stay sprays, for lawn or because they are kept, cannot share the valve with drip. */
export const sharedValve: Rule = (input) => {
  const { heads } = input.zone;
  const lawn = heads.filter(({ waters }) => waters === 'lawn');
  const kept = heads.filter(({ waters, fate }) => waters === 'bed' && fate === 'keep');
  const staying = [...lawn, ...kept];
  const going = heads.length - staying.length;
  if (heads.length > 0 && going === 0) {
    return says(input, {
      rule: 'nothing-to-convert',
      speaks: 'against',
      value: 0,
      source: 'the heads as surveyed',
      message: `All ${counted(heads.length, 'head')} of this valve water lawn or are to be kept: there is nothing to convert.`,
      refs: refsTo('heads', heads),
    });
  }
  if (staying.length === 0) return NOTHING;
  const kinds = [
    ...(lawn.length > 0 ? [`${lawn.length} for lawn`] : []),
    ...(kept.length > 0 ? [`${kept.length} to be kept`] : []),
  ];
  return says(input, {
    rule: 'shared-valve',
    speaks: 'against',
    blocks: true,
    value: staying.length,
    limit: 0,
    source: SOURCE,
    message: `${counted(staying.length, 'head')} on this valve ${agree(staying.length, 'stays a spray', 'stay sprays')} (${kinds.join(', ')}: ${listed(staying.map(({ id }) => id))}), and sprays and drip do not belong on one valve: pressure and minutes differ.`,
    waysOut: lawn.length > 0 ? WAYS_OUT : WAYS_OUT.slice(0, 3),
    refs: refsTo('heads', staying),
  });
};
