import { distance } from '../../base/point.ts';
import { filterById, regulatorById, type PipeEnd } from '../../catalog/index.ts';
import type { ControlSet, Head } from '../../plan/records.ts';
import { called } from '../network/notices.ts';
import type { Notice } from '../results.ts';
import { listed } from '../wording.ts';
import type { CheckInput } from './check.ts';

const SOURCE =
  'trade pages on threads (names withheld): pipe thread is tapered and sealed with tape, hose thread is straight and sealed by a washer; they start into each other and leak';

/** A control set this near to a head is screwed on at its tie-in, metres. */
const AT_TIE_IN_M = 1;

/** Two threaded ends that are to be screwed together. */
interface Screwed {
  readonly control: ControlSet;
  readonly head: Head | null;
  readonly from: PipeEnd;
  readonly to: PipeEnd;
  /** What is joined to what, for a sentence. */
  readonly what: string;
}

/**
 * The chain of threads of each control set: the riser of the tie-in head, then filter and regulator in their order.
 * Hose thread on pipe thread is an error, as are two ends of one gender; another size, which a bushing bridges, is a
 * warning. What a nipple or bushing bridges at the riser is told, to be ordered.
 */
export function controlThreads({ plan }: CheckInput): Notice[] {
  const inside: Screwed[] = [];
  const atRiser: Screwed[] = [];
  const tieIns = [...plan.heads].filter(({ fate }) => fate === 'tie-in');
  for (const control of plan.controls) {
    const filter = filterById(control.filter);
    const regulator = regulatorById(control.regulator);
    if (!filter || !regulator) continue;
    const [first, then, what] = control.regulatorFirst
      ? [regulator, filter, 'its regulator into its filter']
      : [filter, regulator, 'its filter into its regulator'];
    const joint = { control, head: null, from: first.outlet, to: then.inlet, what };
    if (!screwsOn(joint.from, joint.to)) inside.push(joint);
    const head = tieIns.find(({ at }) => distance(at, control.at) <= AT_TIE_IN_M);
    const riser = head?.thread ? riserOf(head.thread) : null;
    if (!head || !riser) continue;
    const own = { control, head, from: riser, to: first.inlet, what: `the riser of ${called(head)}` };
    if (!screwsOn(riser, first.inlet)) atRiser.push(own);
  }
  return [...told('control-thread', inside), ...told('tie-in-thread', atRiser)];
}

function told(rule: 'control-thread' | 'tie-in-thread', joints: readonly Screwed[]): Notice[] {
  const mixed = joints.filter(({ from, to }) => from.thread !== to.thread);
  const alike = joints.filter(({ from, to }) => from.thread === to.thread);
  const atRiser = rule === 'tie-in-thread';
  return [
    ...one(
      rule,
      'error',
      mixed,
      'hose thread and pipe thread start into each other and leak: set an adapter between',
    ),
    ...one(
      rule,
      atRiser ? 'info' : 'error',
      alike.filter(({ from, to }) => from.gender === to.gender),
      'set a nipple or coupling between that fits both',
    ),
    ...one(
      rule,
      atRiser ? 'info' : 'warning',
      alike.filter(({ from, to }) => from.gender !== to.gender),
      'set a bushing between that fits both, or use parts of one size',
    ),
  ];
}

function one(rule: string, severity: Notice['severity'], joints: readonly Screwed[], todo: string): Notice[] {
  if (joints.length === 0) return [];
  const list = joints.map(
    ({ control, from, to, what }) => `${called(control)}: ${what}, ${endName(from)} to ${endName(to)}`,
  );
  return [
    {
      rule,
      severity,
      message: `Threads do not fit at control set ${listed(list, 3)}: ${todo}.`,
      refs: joints.flatMap(({ control, head }): Notice['refs'] => [
        { table: 'controls', id: control.id },
        ...(head ? [{ table: 'heads', id: head.id } as const] : []),
      ]),
      places: joints.map(({ head, control }) => head?.at ?? control.at),
      source: SOURCE,
    },
  ];
}

function screwsOn(a: PipeEnd, b: PipeEnd): boolean {
  return a.size === b.size && a.thread === b.thread && a.gender !== b.gender;
}

function endName({ size, gender, thread }: PipeEnd): string {
  return `${size} in ${gender} ${thread} thread`;
}

/**
 * What stays in the ground when a head is taken off, by the thread of the head's own inlet: a head with a female inlet
 * stood on a male riser. `null` where the text names no size or no gender. Without a word on it, it is pipe thread.
 */
export function riserOf(written: string): PipeEnd | null {
  const size = /(\d+(?:[ -]\d+)?\/\d+|\d+)\s*(?:"|in\b|inch)?/i.exec(written)?.[1];
  const isFemale = /\bfemale\b|\bf(?:i?p|np|gh|h)?t\b|\bfip\b/i.test(written);
  const isMale = !isFemale && /\bmale\b|\bm(?:i?p|np|gh|h)?t\b|\bmip\b/i.test(written);
  if (size === undefined || !(isFemale || isMale)) return null;
  return {
    size: size.replace(' ', '-'),
    thread: /\bhose\b|\b[mf]?g?ht\b/i.test(written) ? 'hose' : 'pipe',
    gender: isFemale ? 'male' : 'female',
  };
}
