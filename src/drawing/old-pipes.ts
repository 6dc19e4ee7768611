import { directionDeg, distance, type Point } from '../base/point.ts';
import type { Table } from '../base/table.ts';
import { refKey, type LateralFate, type LateralPipe, type Supply } from '../plan/records.ts';
import { PEN } from './inks.ts';
import { joinedJoints, pipeJoints, waysFrom, type PipeJoints } from './pipe-joints.ts';
import type { Mark, Pen, SymbolMark } from './marks.ts';

/**
 * Pens of old pipe by what becomes of it; told apart by width, dash and strokes, also in black and white. Pipe that was
 * not found on the ground is in long dashes, whatever becomes of it.
 */
export const OLD_PIPE: Pen = { ink: 'old', widthMm: PEN.medium };
export const ASSUMED_PIPE: Pen = { ink: 'old', widthMm: PEN.fine, dashMm: [2, 1.4] };
const PENS: Readonly<Record<LateralFate, readonly [found: Pen, assumed: Pen]>> = {
  undecided: [OLD_PIPE, ASSUMED_PIPE],
  live: [
    { ink: 'water', widthMm: PEN.heavy },
    { ink: 'water', widthMm: PEN.heavy, dashMm: [3.2, 1.4] },
  ],
  dead: [
    { ink: 'warn', widthMm: PEN.bold, dashMm: [0.5, 1] },
    { ink: 'warn', widthMm: PEN.bold, dashMm: [2, 0.9, 0.5, 0.9] },
  ],
  'cut off': [
    { ink: 'old', widthMm: PEN.thin },
    { ink: 'old', widthMm: PEN.thin, dashMm: [2, 1.4] },
  ],
};

export function pipePen({ fate, measured }: Pick<LateralPipe, 'fate' | 'measured'>): Pen {
  return PENS[fate][measured ? 0 : 1];
}

/** Points the way that the water goes in a live pipe. */
export const FLOW_TICK = {
  name: 'flowTick',
  sizeMm: 2.4,
  pen: { ink: 'water', widthMm: PEN.medium },
} as const satisfies Partial<SymbolMark>;

/** One stroke across each end of a pipe that is cut off. */
export const CUT_STROKE = {
  name: 'cutStroke',
  sizeMm: 2.8,
  pen: { ink: 'line', widthMm: PEN.fine },
} as const satisfies Partial<SymbolMark>;

/** Two strokes where a pipe that is cut off leaves one that stays. */
export const CUT_MARK = {
  name: 'cutMark',
  sizeMm: 3.2,
  pen: { ink: 'line', widthMm: PEN.medium },
} as const satisfies Partial<SymbolMark>;

/** A small dot where three or more pipes are joined, so that a crossing can be told from a tee. */
export const TEE_DOT = {
  name: 'dot',
  sizeMm: 1.1,
  fill: 'old',
} as const satisfies Partial<SymbolMark>;

/** How far from the end of a pipe its stroke stands, millimetres of pen, so that it is clear of what is there. */
const STROKE_IN_MM = 3;

/** A mark moved along a direction on the plan, by millimetres of pen. */
const along = (deg: number, mm: number): Point => {
  const turn = (deg * Math.PI) / 180;
  return [Math.cos(turn) * mm, -Math.sin(turn) * mm];
};

function cutMarks(pipe: LateralPipe, joints: PipeJoints): Mark[] {
  const owner = refKey({ table: 'laterals', id: pipe.id });
  return (['a', 'b'] as const).map((end): Mark => {
    const at = pipe[end];
    const inward = directionDeg(at, end === 'a' ? pipe.b : pipe.a);
    const stays = joints.at(pipe, end).some(({ fate }) => fate === 'live' || fate === 'dead');
    const sign = stays ? CUT_MARK : CUT_STROKE;
    return { kind: 'symbol', owner, at, turnDeg: inward, shiftMm: along(inward, STROKE_IN_MM), ...sign };
  });
}

/** Old buried pipe by its fate: live pipe with the way of its water, cut pipe with strokes; dots at tees. */
export function lateralMarks(laterals: Table<LateralPipe>, supplies: Table<Supply>): Mark[] {
  const pipes = laterals.toArray();
  const joints = pipeJoints(pipes);
  const ways = waysFrom(pipes, supplies, joints);
  const lines = pipes.map((pipe): Mark => ({
    kind: 'path',
    owner: refKey({ table: 'laterals', id: pipe.id }),
    lines: [[pipe.a, pipe.b]],
    closed: false,
    pen: pipePen(pipe),
  }));
  const signs = pipes.flatMap((pipe): Mark[] => {
    if (distance(pipe.a, pipe.b) === 0) return [];
    if (pipe.fate === 'cut off') return cutMarks(pipe, joints);
    const way = pipe.fate === 'live' ? ways.get(pipe.id) : undefined;
    if (!way) return [];
    const [from, to] = way === 'b' ? [pipe.a, pipe.b] : [pipe.b, pipe.a];
    const at: Point = [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2];
    const owner = refKey({ table: 'laterals', id: pipe.id });
    return [{ kind: 'symbol', owner, at, turnDeg: directionDeg(from, to), ...FLOW_TICK }];
  });
  const dots = joinedJoints(pipes, joints, 3).map(({ pipe, at }): Mark => ({
    kind: 'symbol',
    owner: refKey({ table: 'laterals', id: pipe.id }),
    at,
    ...TEE_DOT,
  }));
  return [...lines, ...dots, ...signs];
}
