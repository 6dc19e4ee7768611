import { directionDeg, distance, type Point } from '../../base/point.ts';
import { shown } from '../check.ts';
import { isObject, type JsonObject } from '../json.ts';
import type { HeadPattern } from '../records.ts';
import { Fields, notMeasured } from './fields.ts';

type Strip = Extract<HeadPattern, { kind: 'strip' }>;

const LENGTHS = ['length', 'l', 'long'];
const WIDTHS = ['width', 'w', 'wide'];
const DIRECTIONS = ['directionDeg', 'direction', 'angleDeg', 'angle', 'bearingDeg', 'startDeg', 'start'];

/**
 * A strip: `{length, width, directionDeg}`, `{a, b, width}`, `[length, width]` or `[length, width, directionDeg]`,
 * a box `[x, y, x, y]` or corners about the head, `"4 x 15 ft"`, or `true` with length and width beside it. Of two
 * bare figures the longer is the length. `null`, with a notice and the words in the head's note, for anything else.
 */
export function readStrip(strip: unknown, head: Fields, at: Point | null, notes: string[]): Strip | null {
  const pattern = isObject(strip)
    ? ofObject(strip, head, notes)
    : Array.isArray(strip)
      ? ofList(strip as unknown[], head, at)
      : typeof strip === 'string'
        ? ofWords(strip, head)
        : strip === true
          ? sided(head.size(...LENGTHS), head.size(...WIDTHS), head.number(...DIRECTIONS))
          : null;
  if (pattern) return pattern;
  notes.push(`strip: ${shown(strip)}`);
  head.context.notices.add(
    head.place('strip'),
    `${shown(strip)} does not tell the length and the width of a strip`,
    'No strip is drawn; the words are in the note of the head: measure both.',
  );
  return null;
}

/** Of two sides the longer is the length. */
function sided(one: unknown, two: unknown, turnDeg: number | null): Strip | null {
  if (typeof one !== 'number' || typeof two !== 'number' || !(one > 0 && two > 0)) return null;
  return { kind: 'strip', lengthM: Math.max(one, two), widthM: Math.min(one, two), directionDeg: turnDeg };
}

function ofObject(strip: JsonObject, head: Fields, notes: string[]): Strip | null {
  const inner = new Fields(strip, head.place('strip'), head.context);
  const [a, b] = [inner.take('a', 'from'), inner.take('b', 'to')];
  const start = notMeasured(a) ? null : head.context.point(a, inner.place('a'));
  const end = notMeasured(b) ? null : head.context.point(b, inner.place('b'));
  const line = start && end ? { lengthM: distance(start, end), turnDeg: directionDeg(start, end) } : null;
  const lengthM = inner.size(...LENGTHS) ?? line?.lengthM;
  const widthM = inner.size(...WIDTHS);
  const named = inner.number(...DIRECTIONS) ?? inner.number(...degreeNames(inner));
  const turnDeg = named ?? line?.turnDeg ?? head.number(...DIRECTIONS);
  for (const [key, rest] of inner.rest()) {
    if (!notMeasured(rest))
      notes.push(`strip ${key}: ${typeof rest === 'string' ? rest : JSON.stringify(rest)}`);
  }
  return lengthM && widthM ? { kind: 'strip', lengthM, widthM, directionDeg: turnDeg } : null;
}

/** Fields that nobody has read and whose names say that they are degrees. */
function degreeNames(fields: Fields): string[] {
  return fields.rest().flatMap(([key]) => (/deg$/i.test(key) ? [key] : []));
}

function ofList(strip: readonly unknown[], head: Fields, at: Point | null): Strip | null {
  const { context } = head;
  const where = head.place('strip');
  if (strip.length > 0 && strip.every((part) => Array.isArray(part) || isObject(part))) {
    return ofCorners(
      strip.map((part, i) => context.point(part, `${where}[${i}]`)).filter((point) => point !== null),
    );
  }
  const parts = strip.map((part) => context.amount(part, 'length', context.units.length, where));
  if (strip.length === 4) return ofBox(parts, at);
  if (strip.length !== 2 && strip.length !== 3) return null;
  const turn = strip[2];
  return sided(parts[0], parts[1], typeof turn === 'number' ? turn : head.number(...DIRECTIONS));
}

/** Four figures are a box only where the head stands in it or at its edge; else they may mean anything. */
function ofBox(parts: readonly unknown[], at: Point | null): Strip | null {
  if (!at || !parts.every((part) => typeof part === 'number')) return null;
  const [x1, y1, x2, y2] = parts as number[] as [number, number, number, number];
  const slackM = 0.3;
  const holds = (a: number, value: number, b: number): boolean =>
    value >= Math.min(a, b) - slackM && value <= Math.max(a, b) + slackM;
  if (!holds(x1, at[0], x2) || !holds(y1, at[1], y2)) return null;
  const [dx, dy] = [Math.abs(x2 - x1), Math.abs(y2 - y1)];
  return sided(dx, dy, dx >= dy ? 0 : 90);
}

function ofCorners(corners: readonly Point[]): Strip | null {
  const [a, b, c] = corners;
  if (!a || !b || !c || corners.length > 5) return null;
  const [one, two] = [distance(a, b), distance(b, c)];
  return sided(one, two, one >= two ? directionDeg(a, b) : directionDeg(b, c));
}

/** `"4 x 15 ft"`: a unit at the end counts for both figures where the first has none. */
function ofWords(strip: string, head: Fields): Strip | null {
  const { context } = head;
  const [first = '', second = ''] = strip.split(/\s*(?:x|\u00d7|by|\*)\s*/i);
  const unit = /[a-z'"]+\s*$/i.exec(second)?.[0] ?? '';
  const amount = (text: string): unknown =>
    context.amount(text, 'length', context.units.length, head.place('strip'));
  return sided(
    amount(/[a-z'"]/i.test(first) ? first : `${first} ${unit}`),
    amount(second),
    head.number(...DIRECTIONS),
  );
}
