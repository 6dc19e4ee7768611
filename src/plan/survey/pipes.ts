import { distance, type Point } from '../../base/point.ts';
import { UNMEASURED_LATERAL } from '../empty.ts';
import type { LateralPipe } from '../records.ts';
import { notMeasured, type Fields, type SurveyContext } from './fields.ts';
import { readZone } from './heads.ts';
import type { Found } from './keep.ts';
import type { NamedPlaces } from './places.ts';

/** Deepest that a lateral is believed to lie, metres. */
const DEEPEST_M = 10;

const GUESSED =
  /assum|guess|suppos|presum|estimat|not (?:measured|traced|located|seen)|unmeasured|unknown|inferred/i;

/** Existing buried pipe, in straight pieces `from, to, a, b, size, material, depth`. */
export function readPipes(
  value: unknown,
  places: NamedPlaces,
  zoneOfValve: ReadonlyMap<string, string>,
  context: SurveyContext,
): Found<LateralPipe>[] {
  const found: Found<LateralPipe>[] = [];
  for (const item of context.items(value, 'pipes')) {
    const fields = context.fields(item.value, item.where);
    if (!fields) continue;
    const id = fields.text('id') ?? `L${found.length + 1}`;
    const from = fields.text('from') ?? '';
    const to = fields.text('to') ?? '';
    const a = readEnd(fields, 'a', from, places);
    const b = readEnd(fields, 'b', to, places);
    const record = {
      ...UNMEASURED_LATERAL,
      size: fields.text('size', 'nominal'),
      material: fields.text('material', 'pipe'),
      depthM: readDepth(fields),
      measured: readMeasured(fields),
      zone: readZone(fields, zoneOfValve),
    };
    fields.take('note');
    fields.close();
    if (!a || !b) {
      context.notices.add(
        item.where,
        `the pipe "${id}" from "${from}" to "${to}" lacks a place for ${a ? 'its end' : b ? 'its start' : 'both ends'}`,
        'It was left out: draw it where you think it runs and mark it as assumed.',
      );
      continue;
    }
    if (distance(a, b) === 0) {
      context.notices.add(item.where, `the pipe "${id}" has no length`, 'Check its two ends.');
    }
    found.push({ where: item.where, record: { id, from, to, a, b, ...record } });
  }
  return found;
}

function readEnd(fields: Fields, end: 'a' | 'b', name: string, places: NamedPlaces): Point | null {
  const value = fields.take(end);
  return notMeasured(value) ? (places.get(name) ?? null) : fields.context.point(value, fields.place(end));
}

/** Depth below the ground, metres; a depth below zero, as heights below the ground are written, counts downwards. */
function readDepth(fields: Fields): number | null {
  const depth = fields.quantity('length', 'depth');
  if (depth === null || Math.abs(depth) <= DEEPEST_M) return depth && Math.abs(depth);
  fields.fault(
    'depth',
    `${+depth.toFixed(2)} m`,
    'is deeper than any lateral',
    'It counts as not measured: type it again.',
  );
  return null;
}

/** Whether the pipe was found on the ground. It counts as measured unless a field says that it is a guess. */
function readMeasured(fields: Fields): boolean {
  const measured = fields.yesNo('measured', 'traced', 'located', 'verified');
  const assumed = fields.yesNo('assumed', 'guessed', 'presumed', 'estimated');
  const words = ['status', 'source', 'basis', 'how', 'certainty', 'confidence', 'method', 'known']
    .filter((name) => fields.has(name))
    .map((name) => fields.take(name));
  if (measured !== null) return measured;
  if (assumed !== null) return !assumed;
  return !words.some((word) => word === false || (typeof word === 'string' && GUESSED.test(word)));
}
