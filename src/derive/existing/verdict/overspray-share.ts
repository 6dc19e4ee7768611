import { formatQuantity } from '../../../base/quantity.ts';
import { agree, counted } from '../../wording.ts';
import type { WaterShares } from '../coverage/index.ts';
import { clears, lacks, NOTHING, refsTo, says, type Finding, type Rule, type ZoneInput } from './rule.ts';

/** Share of the water that may miss, percent. */
const LIMIT_PERCENT = 5;
const SOURCE =
  'limit of 5 percent: common practice; codes allow no overhead water on hard surfaces (Yolo County CA 8-3.109, San Gabriel CA 153.537)';

/** Water that falls beside the beds, each head's flow spread evenly on its pattern. */
export const oversprayShare: Rule = (input) => {
  const { coverage, bedHeads } = input;
  const gaps = missingOf(input);
  if (coverage.oversprayShare === null || !hasTargets(input)) return gaps;
  const percent = 100 * coverage.oversprayShare;
  const known = new Set(coverage.headsWithoutPattern);
  const left = coverage.headsWithoutPattern.length;
  const rest = left > 0 ? ` (${counted(left, 'head')} without a known pattern not counted)` : '';
  const found = {
    rule: 'overspray-share',
    value: percent,
    limit: LIMIT_PERCENT,
    unit: '%',
    source: SOURCE,
    refs: refsTo(
      'heads',
      bedHeads.filter(({ id }) => !known.has(id)),
    ),
  } as const;
  const what = `${shown(percent)} of the water misses ${target(input)}`;
  const ground = formatQuantity('area', coverage.oversprayM2, input.units);
  const said =
    percent > LIMIT_PERCENT + 1e-9
      ? says(input, {
          ...found,
          speaks: 'for',
          message: `${what}${where(
            coverage.shares,
            input.zone.heads.every(({ waters }) => waters === 'bed'),
          )}; it wets ${ground} beside it${rest}.`,
        })
      : clears(input, {
          ...found,
          message:
            percent < 0.05 ? `All of the water falls on ${target(input)}${rest}.` : `Only ${what}${rest}.`,
        });
  return { ...said, missing: gaps.missing };
};

function target({ plan, zone }: ZoneInput): string {
  if (zone.heads.some(({ waters }) => waters === 'lawn')) return 'what it is for';
  return [...plan.areas].filter(({ use }) => use === 'bed').length > 1 ? 'the beds' : 'the bed';
}

function shown(percent: number): string {
  return `${percent < 10 ? +percent.toFixed(1) : Math.round(percent)} %`;
}

/** Where it falls, the larger parts only. */
function where(shares: WaterShares | null, forBeds: boolean): string {
  if (!shares) return '';
  const parts: readonly (readonly [string, number])[] = [
    ['on paving', shares.paving],
    ['on walls', shares.wall],
    ...(forBeds ? ([['on lawn', shares.lawn]] as const) : []),
    ['elsewhere', shares.elsewhere],
  ];
  const named = parts.filter(([, share]) => share >= 0.005);
  return named.every(([word]) => word === 'elsewhere')
    ? ''
    : ` (${named.map(([word, share]) => `${shown(100 * share)} ${word}`).join(', ')})`;
}

function hasTargets({ plan }: ZoneInput): boolean {
  return [...plan.areas].some(({ use }) => use === 'bed');
}

function missingOf(input: ZoneInput): Finding {
  const { coverage, plan } = input;
  const left = coverage.headsWithoutPattern.length;
  const uses = new Set([...plan.areas].map(({ use }) => use));
  const gaps = [
    ...(left > 0
      ? [
          `Radius, start and sweep of ${counted(left, 'head')} ${agree(left, 'whose pattern is', 'whose patterns are')} not known.`,
        ]
      : []),
    ...(uses.has('paving') || uses.has('building')
      ? []
      : ['Paving and walls beside the beds, so that water on them can be told from other overspray.']),
  ];
  return gaps.length > 0 ? lacks(...gaps) : NOTHING;
}
