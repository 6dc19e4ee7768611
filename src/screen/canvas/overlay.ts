import { between, distance, type Point } from '../../base/point.ts';
import { formatQuantity, type UnitSystem } from '../../base/quantity.ts';
import { colorOf } from '../../drawing/index.ts';
import {
  edgeMiddles,
  editableRings,
  headHandles,
  mayEditIn,
  rootZone,
  toScreen,
  type Camera,
  type EditorState,
} from '../../editor/index.ts';
import { ringOf } from '../../plan/edits/index.ts';
import { placesOf } from '../../plan/places.ts';
import type { Plan, Ref } from '../../plan/records.ts';
import { photoToPlan } from '../../derive/photo-fit.ts';
import { paintAdvice } from './paint-advice.ts';
import { paintHand } from './paint-hand.ts';
import { paintWord } from './paint-word.ts';
import { tracePath } from './painter.ts';

type Context = CanvasRenderingContext2D;
const accent = colorOf('accent');
const CHOSEN = `${accent}66`;
/** More rings than this hide what they ring. */
const MOST_MARKED = 500;
const DOT_PX = 9;
const paper = colorOf('paper');

function handle(context: Context, [x, y]: Point, size: number, solid: boolean): void {
  context.fillStyle = solid ? accent : paper;
  context.strokeStyle = accent;
  context.lineWidth = 1.5;
  context.setLineDash([]);
  context.beginPath();
  context.rect(x - size / 2, y - size / 2, size, size);
  context.fill();
  context.stroke();
}

function ringRound(context: Context, camera: Camera, at: Point, radiusPx: number): void {
  const [x, y] = toScreen(camera, at);
  context.beginPath();
  context.arc(x, y, radiusPx, 0, 2 * Math.PI);
  context.stroke();
}

/** A broad wash along what is chosen, through which its own colours can still be read. */
function outlineOf(context: Context, camera: Camera, plan: Plan, ref: Ref): void {
  context.strokeStyle = CHOSEN;
  context.lineWidth = 7;
  context.setLineDash([]);
  const places = placesOf(plan, ref);
  if (ref.table === 'areas') {
    for (const ring of [places, ...(plan.areas.get(ref.id)?.holes ?? [])]) {
      tracePath(context, camera, ring, true);
      context.stroke();
    }
  } else if (ref.table === 'runs' || ref.table === 'laterals' || ref.table === 'falls') {
    tracePath(context, camera, places, false);
    context.stroke();
  } else {
    for (const at of places) ringRound(context, camera, at, 10);
  }
}

/** Small squares at places, those in view. */
function dots(context: Context, camera: Camera, places: readonly Point[]): void {
  for (const at of places) {
    const [x, y] = toScreen(camera, at);
    if (x > -DOT_PX && y > -DOT_PX && x < camera.widthPx + DOT_PX && y < camera.heightPx + DOT_PX) {
      context.fillRect(x - DOT_PX / 2, y - DOT_PX / 2, DOT_PX, DOT_PX);
    }
  }
}

/** Marks of so many chosen things that rings would take long and hide them: a square at each of their places. */
function dotAll(context: Context, camera: Camera, plan: Plan, refs: readonly Ref[]): void {
  context.fillStyle = CHOSEN;
  for (const ref of refs) dots(context, camera, placesOf(plan, ref));
}

/** Sides shorter than this on the screen have no room for their length. */
const SIDE_FROM_PX = 44;

/** Length of each side, beside its middle. */
function paintSides(
  context: Context,
  camera: Camera,
  points: readonly Point[],
  closed: boolean,
  units: UnitSystem,
): void {
  const count = closed ? points.length : points.length - 1;
  for (let i = 0; i < count; i++) {
    const a = points[i]!;
    const b = points[(i + 1) % points.length]!;
    const lengthM = distance(a, b);
    if (lengthM * camera.pixelsPerMetre < SIDE_FROM_PX) continue;
    const [x, y] = toScreen(camera, between(a, b, 0.5));
    // Off the line, to the right of its direction on the screen.
    const off = 14 / (lengthM || 1);
    paintWord(context, formatQuantity('length', lengthM, units), [
      x + (b[1] - a[1]) * off,
      y + (b[0] - a[0]) * off,
    ]);
  }
}

/** Handles of the ground that the chosen head wets, with its radius and sweep, or length and width, beside them. */
function paintHeadHandles(context: Context, camera: Camera, plan: Plan, state: EditorState): void {
  const spots = headHandles(plan, state.selection);
  const head = spots[0] && plan.heads.get(spots[0].id);
  if (!head?.pattern) return;
  const { pattern } = head;
  const length = (m: number) => formatQuantity('length', m, state.units);
  for (const { handle: kind, at } of spots) {
    const [x, y] = toScreen(camera, at);
    handle(context, [x, y], 8, false);
    const word =
      pattern.kind === 'strip'
        ? length(kind === 'length' ? pattern.lengthM : pattern.widthM)
        : kind === 'radius'
          ? length(pattern.radiusM)
          : kind === 'end'
            ? formatQuantity('angle', pattern.sweepDeg, state.units)
            : null;
    if (word) paintWord(context, word, [x, y - 16]);
  }
}

/** Line of the cross-section with its ends. */
function paintSection(context: Context, camera: Camera, path: readonly Point[]): void {
  context.strokeStyle = accent;
  context.lineWidth = 1.5;
  context.setLineDash([10, 3, 2, 3]);
  tracePath(context, camera, path, false);
  context.stroke();
  const ends = [
    ['A', path[0]!, path[1]!],
    ['B', path.at(-1)!, path.at(-2)!],
  ] as const;
  for (const [letter, at, next] of ends) {
    const [x, y] = toScreen(camera, at);
    const lengthM = distance(at, next) || 1;
    // Beyond the end, so that the letter lies on no part of the line.
    paintWord(context, letter, [
      x - ((next[0] - at[0]) / lengthM) * 12,
      y + ((next[1] - at[1]) / lengthM) * 12,
    ]);
  }
}

/** Root zones in which an emitter catches, shown while emitters are placed. */
function paintRootZones(context: Context, camera: Camera, plan: Plan): void {
  context.strokeStyle = accent;
  context.globalAlpha = 0.6;
  context.lineWidth = 1;
  context.setLineDash([3, 3]);
  for (const plant of plan.plants) {
    ringRound(context, camera, plant.at, rootZone(plant).outerM * camera.pixelsPerMetre);
  }
  context.globalAlpha = 1;
}

/** Lines that were measured on the photo, with their ends. */
function paintMeasures(context: Context, camera: Camera, plan: Plan): void {
  const { photo } = plan;
  if (!photo) return;
  for (const [i, measure] of photo.measures.entries()) {
    const [a, b] = [photoToPlan(photo, measure.a), photoToPlan(photo, measure.b)];
    context.strokeStyle = accent;
    context.lineWidth = 1.5;
    context.setLineDash(measure.role === 'check' ? [6, 4] : []);
    tracePath(context, camera, [a, b], false);
    context.stroke();
    context.setLineDash([]);
    for (const end of [a, b]) ringRound(context, camera, end, 4);
    const [x, y] = toScreen(camera, between(a, b, 0.5));
    paintWord(context, String(i + 1), [x, y - 12]);
  }
}

/** Rings at places that a finding is about and that no record stands for. */
function paintMarked(context: Context, camera: Camera, places: readonly Point[]): void {
  context.strokeStyle = accent;
  context.lineWidth = 1.5;
  context.setLineDash([]);
  if (places.length > MOST_MARKED) {
    context.fillStyle = CHOSEN;
    dots(context, camera, places);
  } else for (const at of places) ringRound(context, camera, at, 13);
}

/** Everything that shows a gesture and is not part of the plan: selection, handles, draft, what is caught. */
export function paintOverlay(context: Context, camera: Camera, state: EditorState, plan: Plan): void {
  const { selection, draft, tool, toolState } = state;
  if (tool === 'emitter') paintRootZones(context, camera, plan);
  if (tool === 'measure') paintMeasures(context, camera, plan);
  if (state.section && state.view === 'survey') paintSection(context, camera, state.section);

  if (state.advice) paintAdvice(context, camera, state.advice);
  if (selection.length > MOST_MARKED) dotAll(context, camera, plan, selection);
  else for (const ref of selection) outlineOf(context, camera, plan, ref);
  paintMarked(context, camera, state.marked);
  if (tool === 'select' && selection.length <= 20 && mayEditIn(state.view)) {
    const chosen = (
      toolState as { vertex?: { table: string; id: string; ring: number; index: number } | null }
    ).vertex;
    for (const ring of editableRings(plan, selection)) {
      edgeMiddles(plan, ring).forEach((middle) => {
        context.globalAlpha = 0.7;
        handle(context, toScreen(camera, middle.at), 5, false);
        context.globalAlpha = 1;
      });
      (ringOf(plan, ring) ?? []).forEach((p, index) => {
        const on =
          chosen &&
          chosen.table === ring.table &&
          chosen.id === ring.id &&
          chosen.ring === ring.ring &&
          chosen.index === index;
        handle(context, toScreen(camera, p), on ? 11 : 8, !!on);
      });
    }
  }

  if (tool === 'select' && mayEditIn(state.view)) paintHeadHandles(context, camera, plan, state);

  const sides =
    tool === 'select' && selection.length === 1 && mayEditIn(state.view)
      ? editableRings(plan, selection)
      : [];
  for (const ring of sides) {
    paintSides(context, camera, ringOf(plan, ring) ?? [], ring.table === 'areas', state.units);
  }

  for (const line of draft.lines) {
    context.strokeStyle = accent;
    context.lineWidth = line.guide ? 1 : 1.75;
    context.setLineDash(line.guide ? [4, 4] : []);
    tracePath(context, camera, line.points, line.closed);
    if (line.closed && !line.guide) {
      context.globalAlpha = 0.08;
      context.fillStyle = accent;
      context.fill();
      context.globalAlpha = 1;
    }
    context.stroke();
  }
  if (draft.piece && tool !== 'measure' && tool !== 'tape' && draft.piece.lengthM === undefined) {
    paintSides(context, camera, [draft.piece.from, draft.piece.to], false, state.units);
  }
  for (const dot of draft.dots) handle(context, toScreen(camera, dot), 6, true);
  if (tool === 'rectify') {
    draft.dots.forEach((dot, i) => {
      const [x, y] = toScreen(camera, dot);
      paintWord(context, String(i + 1), [x + 12, y - 12]);
    });
  }
  const { snap } = draft;
  if (snap && snap.kind !== 'free') {
    context.strokeStyle = accent;
    context.lineWidth = 1.5;
    context.setLineDash([]);
    if (snap.guide) {
      context.setLineDash([4, 4]);
      tracePath(context, camera, snap.guide, false);
      context.stroke();
      context.setLineDash([]);
    }
    const [x, y] = toScreen(camera, snap.at);
    context.beginPath();
    if (snap.kind === 'vertex') context.arc(x, y, 7, 0, 2 * Math.PI);
    else if (snap.kind === 'edge') {
      context.moveTo(x - 6, y - 6);
      context.lineTo(x + 6, y + 6);
      context.moveTo(x + 6, y - 6);
      context.lineTo(x - 6, y + 6);
    } else {
      context.moveTo(x - 7, y);
      context.lineTo(x, y);
      context.lineTo(x, y - 7);
    }
    context.stroke();
  }
  paintHand(context, camera, state);
  if (state.outlet !== null) {
    const outlet = state.answer?.results.outlets[state.outlet];
    if (outlet) {
      context.strokeStyle = accent;
      context.lineWidth = 2;
      context.setLineDash([]);
      ringRound(context, camera, outlet.at, 9);
    }
  }
}
