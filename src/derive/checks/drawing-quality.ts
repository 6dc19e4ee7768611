import { formatQuantity } from '../../base/quantity.ts';
import { fitPhoto, RESIDUAL_LIMIT_PERCENT } from '../photo-fit.ts';
import type { Plan } from '../../plan/records.ts';
import { called } from '../network/notices.ts';
import type { Notice } from '../results.ts';
import { agree, counted, listed } from '../wording.ts';
import type { CheckInput, Limit, Rule } from './check.ts';

const SOURCE =
  'Texas 30 TAC 344 and Fort Worth irrigation plan page, Chula Vista 20.12.110: what a plan has to show; residual of 2 percent: common practice; lengths by slope: geometry, sqrt(1 + slope^2)';

const RESIDUAL: Limit = {
  key: 'drawing-quality.residual',
  label: 'Residual of the photo’s measured lines',
  kind: 'percent',
  usual: RESIDUAL_LIMIT_PERCENT,
  least: 0.1,
  most: 20,
  source: 'common practice',
};
const STEEP: Limit = {
  key: 'drawing-quality.slope',
  label: 'Slope from which lengths in plan fall short',
  kind: 'slope',
  usual: 10,
  least: 1,
  most: 100,
  source: 'geometry: 0.5 percent too short at 10 percent, 7.7 at 40, 11.8 at 50',
};

/** Words of a survey that speak of sloping ground. */
const SLOPING = /\b(?:slope|sloping|hill|hillside|steep|terraced?|embankment|talud|ladera|pendiente)\b/i;

/**
 * Whether the drawing can be relied on: scale of the photo, flows and static pressure, pipe that was assumed. Lengths
 * are always measured on the ground of the levels, so they cannot be taken in plan on a known slope; it speaks where
 * the survey tells of a slope and no level says how steep it is. North, scale bar and legend are put on each sheet by
 * themselves.
 */
export const drawingQuality: Rule = {
  number: 40,
  title: 'Quality of the drawing',
  says: [
    'photo-line-no-length',
    'photo-line-no-measure',
    'photo-line-short',
    'photo-not-scaled',
    'photo-stretch-unseen',
    'photo-residual',
    'slope-without-levels',
    'head-flows-missing',
    'lateral-assumed',
  ],
  severity: 'warning',
  limits: [RESIDUAL, STEEP],
  source: SOURCE,
  check: (input) => [...photo(input), ...slope(input), ...flows(input), ...assumed(input)],
};

/** Whatever the photo's measured lines say against its scale, by this plan's limit. */
function photo({ plan, limit }: CheckInput): Notice[] {
  if (!plan.photo) return [];
  const { warnings, worstPercent } = fitPhoto(plan.photo);
  const most = limit(RESIDUAL);
  const others = warnings.filter(({ rule }) => rule !== 'photo-residual');
  if (!(worstPercent > most)) return others;
  return [
    ...others,
    {
      rule: 'photo-residual',
      severity: 'warning',
      message: `The measured lines disagree with one scale of the photo by up to ${worstPercent.toFixed(1)} %, more than ${most} %: measure again, or flatten the photo if it was taken at a slant.`,
      refs: [],
      source: 'common practice',
    },
  ];
}

function slope({ plan, units, limit }: CheckInput): Notice[] {
  if (plan.levels.size + plan.falls.size > 0 || plan.runs.size === 0) return [];
  const why = slopeTold(plan);
  if (why === null) return [];
  const share = 100 * (1 - 1 / Math.hypot(1, limit(STEEP) / 100));
  return [
    {
      rule: 'slope-without-levels',
      severity: 'warning',
      message: `The survey tells of a slope (${why}), and no level or fall is measured: lengths and pressures count the ground as flat. At ${formatQuantity('slope', limit(STEEP), units)} tubing comes out ${share.toFixed(1)} % short, at 50 % 11.8 %. Measure levels, or falls, in Survey.`,
      refs: [...plan.areas]
        .filter(({ use, name }) => use === 'bed' && SLOPING.test(name))
        .map(({ id }) => ({ table: 'areas', id }) as const),
      source: SOURCE,
    },
  ];
}

function slopeTold({ site, soil, climate, areas }: Plan): string | null {
  const bed = [...areas].find(({ name }) => SLOPING.test(name));
  if (bed) return `area ${called(bed)}`;
  if (soil.coverKind === 'netting') return 'netting on the soil';
  const texts = [site.name, site.notes, soil.cover ?? '', climate.note];
  const word = texts.map((text) => SLOPING.exec(text)?.[0]).find((found) => found !== undefined);
  return word === undefined ? null : `“${word}” in its notes`;
}

function flows({ plan }: CheckInput): Notice[] {
  const open = [...plan.heads].filter(({ flowLph, fate }) => flowLph === null && fate !== 'cut off');
  if (open.length === 0 || plan.runs.size === 0) return [];
  return [
    {
      rule: 'head-flows-missing',
      severity: 'info',
      message: `${counted(open.length, 'head')} (${listed(open.map((head) => called(head)))}) ${agree(open.length, 'has', 'have')} no flow: the drawing of what is there is not complete. Read ${agree(open.length, 'its', 'their')} nozzles, or type the flows.`,
      refs: open.map(({ id }) => ({ table: 'heads', id }) as const),
      source: SOURCE,
    },
  ];
}

/** Assumed pipe is drawn as such; that which is to carry the drip's water has to be found on the ground. */
function assumed({ plan }: CheckInput): Notice[] {
  const open = [...plan.laterals].filter(({ measured, fate }) => !measured && fate === 'live');
  if (open.length === 0) return [];
  return [
    {
      rule: 'lateral-assumed',
      severity: 'warning',
      message: `${counted(open.length, 'piece')} of old pipe that ${agree(open.length, 'is', 'are')} to carry the drip’s water (${listed(open.map(({ from, to }) => `${from} to ${to}`))}) ${agree(open.length, 'is', 'are')} only assumed: dig or probe, and mark ${agree(open.length, 'it', 'them')} as measured. Have buried utilities located before digging.`,
      refs: open.map(({ id }) => ({ table: 'laterals', id }) as const),
      source: SOURCE,
    },
  ];
}
