import { distance, type Point } from '../../base/point.ts';
import { add, remove } from '../../plan/edits/index.ts';
import { runEnd } from '../../plan/on-run.ts';
import type { FlushEnd, LinePartKind, Plan } from '../../plan/records.ts';
import type { Snap } from '../snap.ts';
import { nearestRun, placingTool, type Placing } from './place.ts';
import { addedTo, NO_DRAFT, type Tool } from './tool.ts';

/** Sets check valves; the pointer catches on runs. */
export const checkTool = placingTool('check', 'checkValves', (raw, { plan, toleranceM, choices }) => {
  const near = nearestRun(plan, raw, (run) => run.path.length > 1);
  if (!near || near.far > toleranceM) {
    return {
      snap: { at: raw, kind: 'free', guide: null },
      edit: null,
      why: 'A check valve sits in a run of tubing or dripline. Press on one.',
    };
  }
  return {
    snap: { at: near.tap, kind: 'edge', guide: null },
    edit: add('Set check valve', 'checkValves', { runId: near.run.id, at: near.tap, ...choices.check }),
  };
});

const LINE_PARTS = {
  'air relief': 'An air relief sits on a run, at a high place. Press on a run.',
  drain: 'A drain sits on a run, at a low place. Press on a run.',
} as const satisfies Record<LinePartKind, string>;

/** Sets air reliefs or drains; the pointer catches on runs. */
const linePartTool = (name: 'relief' | 'drain', kind: LinePartKind): Tool<Placing> =>
  placingTool(name, 'lineParts', (raw, { plan, toleranceM }) => {
    const near = nearestRun(plan, raw, (run) => run.path.length > 1);
    if (!near || near.far > toleranceM)
      return { snap: { at: raw, kind: 'free', guide: null }, edit: null, why: LINE_PARTS[kind] };
    return {
      snap: { at: near.tap, kind: 'edge', guide: null },
      edit: add(`Set ${kind}`, 'lineParts', { kind, runId: near.run.id, at: near.tap }),
    };
  });

export const reliefTool = linePartTool('relief', 'air relief');
export const drainTool = linePartTool('drain', 'drain');

interface EndFound extends Omit<FlushEnd, 'id'> {
  readonly at: Point;
  /** The flush end that is there already. */
  readonly flushId: string | null;
}

/** The nearest end of a run within reach; where several meet, one that has a flush end comes first. */
function endNear(plan: Plan, raw: Point, toleranceM: number): EndFound | null {
  const flushes = new Map([...plan.flushEnds].map((one) => [`${one.end} ${one.runId}`, one.id]));
  let best: (EndFound & { far: number }) | null = null;
  for (const run of plan.runs) {
    for (const end of ['start', 'end'] as const) {
      const at = runEnd(run, end)?.at;
      if (!at) continue;
      const far = distance(at, raw);
      const flushId = flushes.get(`${end} ${run.id}`) ?? null;
      const nearer = !best || far < best.far || (far === best.far && flushId !== null);
      if (far <= toleranceM && nearer) best = { runId: run.id, end, at, flushId, far };
    }
  }
  return best;
}

const PLACING: Placing = { name: 'placing' };

/** Makes the end of a run openable, or closes it for good; the pointer catches on the ends of runs. */
export const flushTool: Tool<Placing> = {
  name: 'flush',
  start: PLACING,
  handle: (state, input, { plan, toleranceM }) => {
    if (input.kind !== 'move' && input.kind !== 'down') {
      return { state, draft: NO_DRAFT, ...(input.kind === 'escape' ? { done: true } : {}) };
    }
    const found = endNear(plan, input.at, toleranceM);
    const snap: Snap = found
      ? { at: found.at, kind: 'vertex', guide: null }
      : { at: input.at, kind: 'free', guide: null };
    const hover = { ...NO_DRAFT, snap };
    if (!found) {
      const say = 'A flush end is the end of a run. Press on one.';
      return { state, draft: hover, ...(input.kind === 'down' ? { say } : {}) };
    }
    const { runId, end, flushId } = found;
    if (flushId !== null) {
      if (input.kind === 'move') return { state, draft: hover };
      const keep = remove('Take flush end away', [{ table: 'flushEnds', id: flushId }]);
      return { state, draft: NO_DRAFT, keep, select: [], say: 'This end of the run has no flush end now.' };
    }
    const edit = add('Set flush end', 'flushEnds', { runId, end });
    return input.kind === 'move'
      ? { state, draft: { ...hover, edit } }
      : { state, draft: NO_DRAFT, keep: edit, select: addedTo('flushEnds') };
  },
};
