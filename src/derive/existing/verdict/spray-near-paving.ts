import { greatestWidth, regionOf } from '../../../base/clip.ts';
import { formatQuantity } from '../../../base/quantity.ts';
import { distanceToRing, polygonContains } from '../../../base/polygon.ts';
import { FOOT_M, INCH_MM } from '../../../base/units.ts';
import type { Area, Head } from '../../../plan/records.ts';
import { agree, counted, listed } from '../../wording.ts';
import { allOf, NOTHING, refsTo, says, type Finding, type Rule, type ZoneInput } from './rule.ts';

const NARROW_M = 10 * FOOT_M;
const NEAR_PAVING_M = (24 * INCH_MM) / 1000;
/** A width in feet that was typed or traced misses by less than this. */
const HAIR_M = 0.006;

const NARROW_SOURCE =
  'no overhead irrigation in areas under 10 ft wide: Yolo County CA 8-3.109 (other places: 6 ft Redwood City CA, 5 ft Corpus Christi TX, 48 in Texas)';
const NEAR_SOURCE =
  'no overhead irrigation within 24 in of hard surfaces: Yolo County CA 8-3.109, San Gabriel CA 153.537';

/** Beds that are narrow, and heads that stand close to paving: ground where many codes allow no sprays. */
export const sprayNearPaving: Rule = (input) => allOf(narrowBeds(input), headsNearPaving(input));

const widths = new WeakMap<Area, number>();

/** Remembered by area: an edit replaces exactly the areas that it changes. */
function widthOf(area: Area): number {
  const known = widths.get(area);
  if (known !== undefined) return known;
  const widthM = greatestWidth(regionOf(area.outline, area.holes));
  widths.set(area, widthM);
  return widthM;
}

function narrowBeds(input: ZoneInput): Finding {
  const { plan, units } = input;
  const found = input.beds.flatMap(({ id }) => {
    const area = plan.areas.get(id);
    const widthM = area ? widthOf(area) : 0;
    return area && widthM > 0 && widthM < NARROW_M - HAIR_M ? [{ area, widthM }] : [];
  });
  return allOf(
    ...found.map(({ area, widthM }) =>
      says(input, {
        rule: 'spray-near-paving',
        speaks: 'for',
        value: widthM,
        limit: NARROW_M,
        unit: 'm',
        source: NARROW_SOURCE,
        message: `${area.name || area.id} is at most ${formatQuantity('length', widthM, units)} wide, under the ${formatQuantity('length', NARROW_M, units)} below which many codes allow no sprays.`,
        refs: refsTo('areas', [area]),
      }),
    ),
  );
}

function headsNearPaving(input: ZoneInput): Finding {
  const paving = [...input.plan.areas].filter(({ use }) => use === 'paving');
  const near = input.bedHeads.filter((head) => paving.some((area) => isNear(head, area)));
  if (near.length === 0) return NOTHING;
  const limit = formatQuantity('spacing', NEAR_PAVING_M, input.units);
  return says(input, {
    rule: 'spray-near-paving',
    speaks: 'for',
    value: near.length,
    limit: 0,
    source: NEAR_SOURCE,
    message: `${counted(near.length, 'head')} (${listed(near.map(({ id }) => id))}) ${agree(near.length, 'stands', 'stand')} within ${limit} of paving, where many codes allow no sprays.`,
    refs: refsTo('heads', near),
  });
}

function isNear({ at }: Head, { outline, holes }: Area): boolean {
  if (polygonContains(outline, holes, at)) return true;
  return [outline, ...holes].some((ring) => distanceToRing(ring, at) <= NEAR_PAVING_M + 1e-9);
}
