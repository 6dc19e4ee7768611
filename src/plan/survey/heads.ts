import type { Point } from '../../base/point.ts';
import { shown } from '../check.ts';
import { UNMEASURED_HEAD } from '../empty.ts';
import type { Head, HeadPattern } from '../records.ts';
import { notMeasured, type Fields, type SurveyContext } from './fields.ts';
import type { Found } from './keep.ts';
import { readStrip } from './strip.ts';

/**
 * Existing heads: place, flow and the pressure it holds for, body and thread, the sector or strip that they wet, whether
 * something stands in it, what they water, zone.
 */
export function readHeads(
  value: unknown,
  zoneOfValve: ReadonlyMap<string, string>,
  context: SurveyContext,
): Found<Head>[] {
  const found: Found<Head>[] = [];
  for (const item of context.items(value, 'heads')) {
    const fields = context.fields(item.value, item.where);
    if (!fields) continue;
    const id = fields.text('id') ?? `H${found.length + 1}`;
    const at = fields.at();
    const flowLph = fields.quantity('flow', '', 'flow', 'q');
    const notes = [fields.text('note', 'notes')].filter((note) => note !== null);
    const pattern = readPattern(fields, at, notes);
    const waters = readWaters(fields, notes);
    const zone = readZone(fields, zoneOfValve);
    const fittings = {
      pressureKpa: fields.quantity('pressure', '', 'pressure', 'running', 'atpressure'),
      body: fields.text('body', 'bodyType'),
      thread: fields.text('thread', 'inletThread', 'inlet'),
      blocked: readBlocked(fields, notes),
      fate: readFate(fields, notes),
    };
    for (const [key, rest] of fields.rest()) {
      if (!notMeasured(rest)) notes.push(`${key}: ${typeof rest === 'string' ? rest : JSON.stringify(rest)}`);
    }
    if (!at) {
      context.notices.add(
        item.where,
        `head "${id}" has no place`,
        'It was left out: put it on the plan by hand.',
      );
      continue;
    }
    const note = notes.join('; ').slice(0, 10_000);
    found.push({
      where: item.where,
      record: { ...UNMEASURED_HEAD, id, at, flowLph, ...fittings, pattern, waters, zone, note },
    });
  }
  return found;
}

/** The zone of a head or pipe: its own, or that of the valve that it names. */
export function readZone(fields: Fields, zoneOfValve: ReadonlyMap<string, string>): string | null {
  const zone = fields.text('zone', 'station');
  const valve = fields.text('valve');
  return zone ?? (valve === null ? null : (zoneOfValve.get(valve) ?? valve));
}

const FATES: readonly (readonly [RegExp, Head['fate']])[] = [
  [/^(?:keep|kept|stays?)$/, 'keep'],
  [/^cap(?:ped)?$/, 'cap'],
  [/^cut(?:[ -]?off)?$/, 'cut off'],
  [/^tie[ -]?in$/, 'tie-in'],
  [/^(?:undecided|open)$/, 'undecided'],
];

/** What becomes of the head, where that was settled on the site. */
function readFate(fields: Fields, notes: string[]): Head['fate'] {
  const value = fields.take('fate');
  if (notMeasured(value)) return 'undecided';
  const text = typeof value === 'string' ? value.trim().toLowerCase() : '';
  const fate = FATES.find(([pattern]) => pattern.test(text))?.[1];
  if (fate) return fate;
  fields.fault(
    'fate',
    value,
    'must be "keep", "cap", "cut off" or "tie-in"',
    'It counts as undecided: choose again.',
  );
  notes.push(`fate: ${shown(value)}`);
  return 'undecided';
}

/** Yes or no; any other word says by what it is blocked and is kept in the note. */
function readBlocked(fields: Fields, notes: string[]): boolean | null {
  const name = ['blocked', 'blockedBy', 'obstructed'].find((one) => fields.has(one)) ?? 'blocked';
  const value = fields.take(name);
  const isWord =
    typeof value === 'string' &&
    !notMeasured(value) &&
    !/^(?:yes|y|no|n|none|true|false)$/i.test(value.trim());
  if (!isWord) return fields.yesNo(name);
  notes.push(`blocked: ${value.trim()}`);
  return true;
}

function readWaters(fields: Fields, notes: string[]): Head['waters'] {
  const value = fields.take('waters');
  if (notMeasured(value)) return 'bed';
  const text = typeof value === 'string' ? value.trim().toLowerCase() : '';
  if (/^(?:lawns?|turf|grass)$/.test(text)) return 'lawn';
  if (/^(?:beds?|plants|shrubs?)$/.test(text)) return 'bed';
  fields.fault('waters', value, 'must be "bed" or "lawn"', 'It is taken as a head of the bed: choose again.');
  notes.push(`waters: ${shown(value)}`);
  return 'bed';
}

function readPattern(fields: Fields, at: Point | null, notes: string[]): HeadPattern | null {
  const strip = fields.take('strip');
  if (!notMeasured(strip) && strip !== false) return readStrip(strip, fields, at, notes);
  const radiusM = fields.size('radius', 'r', 'throw');
  const sweep = fields.number('sweepDeg', 'sweep', 'arcDeg', 'arc');
  const start = fields.number('startDeg', 'start');
  if (radiusM === null && sweep === null && start === null) return null;
  const whole = sweep !== null && Math.abs(sweep) >= 360;
  if (radiusM === null || sweep === null || (start === null && !whole)) {
    const known = [
      radiusM === null ? '' : `radius ${+radiusM.toFixed(3)} m`,
      sweep === null ? '' : `sweep ${sweep} deg`,
      start === null ? '' : `start ${start} deg`,
    ].filter(Boolean);
    notes.push(known.join(', '));
    fields.context.notices.add(
      fields.where,
      `only part of the wetted sector is known (${known.join(', ')})`,
      'No sector is drawn; the rest is in the note of the head: measure radius, start and sweep.',
    );
    return null;
  }
  // A sweep written clockwise is the same ground, begun at its other end.
  const begin = sweep < 0 ? (start ?? 0) + Math.max(sweep, -360) : (start ?? 0);
  return {
    kind: 'sector',
    radiusM,
    startDeg: ((begin % 360) + 360) % 360,
    sweepDeg: Math.min(Math.abs(sweep), 360),
  };
}
