import { FOOT_M } from '../../base/units.ts';
import { DRIPLINE_FOR_SOIL, driplineForSoil } from '../../catalog/index.ts';
import { formatQuantity } from '../../base/quantity.ts';
import type { Plan } from '../../plan/records.ts';
import { called } from '../network/notices.ts';
import type { Notice, RecordChange } from '../results.ts';
import { textureOf } from '../soil/index.ts';
import { agree, counted, isAbove, twoFigures } from '../wording.ts';
import type { CheckInput, Limit, Rule } from './check.ts';
import { denserFlow } from './denser-flow.ts';
import { rowsOf, runRefs, type RowPlace } from './drip-rows.ts';
import { liveFills } from './live-fills.ts';
import { thirdsOf } from './lower-third-spacing.ts';

const SOURCE =
  'San Diego Union-Tribune, garden questions, 16 Jun 2012: emitters 12 in apart in sand, 18 in loam, 24 in clay; row spacing alike: common practice';

const spread = (key: string, label: string, usual: number): Limit => ({
  key: `spacing-over-spread.${key}`,
  label,
  kind: 'spacing',
  usual,
  least: 0.05,
  most: 2,
  source: SOURCE,
});
const LIMITS = {
  coarse: spread('sand', 'Spacing in sand, at most', FOOT_M),
  medium: spread('loam', 'Spacing in loam, at most', 1.5 * FOOT_M),
  fine: spread('clay', 'Spacing in clay and clay loam, at most', 2 * FOOT_M),
} as const;
const WIDER: Limit = {
  key: 'spacing-over-spread.lower-third',
  label: 'Rows in the lowest third of a slope may be wider by',
  kind: 'factor',
  usual: 1.25,
  least: 1,
  most: 3,
  source: 'common practice',
};

const OVER: Limit = {
  key: 'spacing-over-spread.over',
  label: 'Rows may lie wider than the spread by',
  kind: 'percent',
  usual: 15,
  least: 0,
  most: 100,
  source:
    'common practice: rows spread evenly over a bed come out wider than asked, and tables of the trade agree within a fifth',
};
/** Share of the gaps that has to be too wide: single gaps lie round what is left out. */
const MANY = 0.2;

const LABEL = 'Use the spacing of this soil';

/** The spread of this plan's soil; null while its texture is not known. */
function spreadOf(plan: Plan): { readonly limit: Limit; readonly texture: string } | null {
  const { texture } = textureOf(plan.soil);
  if (texture === null || !DRIPLINE_FOR_SOIL.some(({ textures }) => textures.includes(texture))) return null;
  const { group } = driplineForSoil(texture);
  return {
    limit: group === 'coarse' ? LIMITS.coarse : group === 'medium' ? LIMITS.medium : LIMITS.fine,
    texture,
  };
}

/** Water spreads sideways only so far; beyond that dry ground is left between emitters or rows. */
export const spacingOverSpread: Rule = {
  number: 29,
  title: 'Spacing and spread of the soil',
  says: ['spacing-over-spread'],
  severity: 'warning',
  limits: [...Object.values(LIMITS), WIDER, OVER],
  source: SOURCE,
  check: (input) => {
    const soil = spreadOf(input.plan);
    if (!soil) return [];
    const most = input.limit(soil.limit);
    const places = rowsOf(input.plan);
    const wide = wideRows(places, most, input.limit(WIDER), input.limit(OVER) / 100);
    const apart = places.filter(({ run }) => isAbove(run.inline!.spacingM, most));
    if (wide.length + apart.length === 0) return [];
    return [notice(input, soil.texture, most, wide, apart)];
  },
};

function notice(
  input: CheckInput,
  texture: string,
  most: number,
  wide: readonly RowPlace[],
  apart: readonly RowPlace[],
): Notice {
  const { plan, units } = input;
  const rowsM = Math.max(...wide.flatMap(({ gaps }) => gaps.map(({ spacingM }) => spacingM)), 0);
  const emittersM = apart.reduce((far, { run }) => Math.max(far, run.inline!.spacingM), 0);
  const figure = (value: number): string => twoFigures('spacing', value, most, units)[0];
  const what = [
    ...(wide.length > 0 ? [`${counted(runRefs(wide).length, 'row')} up to ${figure(rowsM)} apart`] : []),
    ...(apart.length > 0
      ? [`emitters ${figure(emittersM)} apart on ${counted(runRefs(apart).length, 'run')}`]
      : []),
  ];
  const ids = new Set(runRefs([...wide, ...apart]).map(({ id }) => id));
  // Spread evenly, rows at this spacing come out no wider than the limit.
  const closer = rowsM > 0 ? rowsM / Math.ceil(rowsM / most - 1e-6) : most;
  const times = new Map<string, number>();
  const changes = liveFills(plan.fills).flatMap((fill): RecordChange[] => {
    if (!fill.runIds.some((id) => ids.has(id))) return [];
    const choices =
      fill.kind === 'bed'
        ? {
            ...fill.choices,
            rowSpacingM: Math.min(fill.choices.rowSpacingM, closer),
            emitterSpacingM: Math.min(fill.choices.emitterSpacingM, most),
          }
        : { ...fill.choices, emitterSpacingM: Math.min(fill.choices.emitterSpacingM, most) };
    const denser =
      (fill.choices.emitterSpacingM / choices.emitterSpacingM) *
      (fill.kind === 'bed' && 'rowSpacingM' in choices ? fill.choices.rowSpacingM / choices.rowSpacingM : 1);
    for (const id of fill.runIds) times.set(id, denser);
    return [{ kind: 'set', table: 'fills', ids: [fill.id], fields: { choices } }];
  });
  // More emitters take more water: the regulator has to go with them, and where none does the zone has to be divided.
  const { changes: regulators, beyond } = denserFlow(input, times);
  const [full] = beyond;
  const first = full
    ? ` That takes about ${formatQuantity('zoneFlow', full.flowLph, units)} through control set ${called(full.control)}, more than a regulator of its setting passes: divide the zone first.`
    : '';
  return {
    rule: 'spacing-over-spread',
    severity: 'warning',
    message: `${what.join(' and ')}: in ${texture} water spreads about ${formatQuantity('spacing', most, units)}, so dry ground stays between them. Lay ${agree(what.length, 'them', 'both')} no wider than that, or dig after a run and see how far it went.${first}`,
    refs: runRefs([...wide, ...apart]),
    places: wide.slice(0, 20).map(({ at }) => at),
    source: SOURCE,
    ...(changes.length > 0 && !full
      ? {
          fix: {
            label: regulators.length > 0 ? 'Use the spacing of this soil, and a larger regulator' : LABEL,
            changes: [...changes, ...regulators],
          },
        }
      : {}),
  };
}

/** Places of beds, or of all that lies in none, where many gaps are too wide for where they lie on the slope. */
function wideRows(places: readonly RowPlace[], most: number, wider: number, over: number): RowPlace[] {
  const byPart = new Map<string | null, RowPlace[]>();
  for (const place of places) {
    const list = byPart.get(place.bedId);
    if (list) list.push(place);
    else byPart.set(place.bedId, [place]);
  }
  return [...byPart.values()].flatMap((own) => {
    const lowest = own.some(({ slopePercent }) => slopePercent >= 5) ? thirdsOf(own)?.limitM : undefined;
    let gapCount = 0;
    const wide = own.filter(({ gaps, slopePercent }) => {
      const sine = slopePercent / 100 / Math.hypot(1, slopePercent / 100);
      gapCount += gaps.length;
      return gaps.some(({ spacingM, zM }) => {
        // A gap over the edge of the lowest third is partly as wide.
        const isLow = lowest !== undefined && zM <= lowest + 0.51 * spacingM * sine;
        const here = isLow ? most * wider : most;
        return isAbove(spacingM, here * (1 + over));
      });
    });
    return wide.length > 0 && wide.length >= MANY * Math.max(1, gapCount / 2) ? wide : [];
  });
}
