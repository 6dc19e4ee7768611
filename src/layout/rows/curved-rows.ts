import { boxOf, distance, type Path, type Point } from '../../base/point.ts';
import { good, type Result } from '../../base/result.ts';
import { allTooShort, noRoom, tooManyEmitters, tooManyRows, type BedScene } from './bed-scene.ts';
import { bendNotes, bendRadius } from './bends.ts';
import { MOST_ROWS, type Filled, type FillNote } from './choices.ts';
import { contourPieces, NEAREST_SHARE, rowLines, type CurvedPiece, type RowLine } from './contour-pieces.ts';
import { cutterOf } from './cut-line.ts';
import { figuresOf, limitNotes, OFF_CONTOUR } from './figures.ts';
import { contourDeg, frameAlong, longEdgeDeg } from './frame.ts';
import { headersOf } from './headers.ts';
import { layRuns } from './lay-runs.ts';
import { edgeRings, firstThat } from './pieces.ts';
import { rowField, type RowField } from './row-field.ts';
import { rowGrid, type RowGrid } from './row-grid.ts';
import { sourceNear } from './source-near.ts';
import { lowEndOf, spacedRows, type AcrossGround } from './spacing.ts';
import { straightRows } from './straight-rows.ts';
import { joiningTees, teesOf } from './tees.ts';

/** Ground counts as plane where it leaves the plane that lies nearest to it by no more than this, metres. */
const PLANE_M = 0.01;
/** Cells of the grid over the row spacing: fine enough for a row to bend as it can. */
const CELL_SHARE = 1 / 2;
/** Tees reach over at most so many spacings. */
const TEE_REACH = 2.5;
/** Spacings this near to the one asked for are as asked. */
const EVEN = 0.1;
/** Shares of the bed between which its spacings are told, so that single triangles do not count. */
const MOST_OF_IT = [0.02, 0.98] as const;

/**
 * Rows that follow the contour lines of curved ground: lines of a value that rises by one row for each row spacing on the
 * ground uphill, found by least squares between contour and spacing (`rowField`). Where they would come too near to each
 * other every other one ends, and where too far apart further ones begin, with tees to the rows beside them. On plane
 * ground they are the straight rows along its contour.
 */
export function curvedRows(scene: BedScene): Result<Filled> {
  const { plan, bed, ground, gradient, region, choices } = scene;
  if (isPlane(scene)) {
    const filled = straightRows({
      ...scene,
      choices: { ...choices, pattern: 'straight', direction: 'contour' },
    });
    if (!filled.ok || filled.value.notes.some(({ kind }) => kind === 'level')) return filled;
    return good({ ...filled.value, notes: [{ kind: 'plane' }, ...filled.value.notes] });
  }
  const grid = rowGrid(region, ground, choices.rowSpacingM * CELL_SHARE);
  if (!grid) return noRoom(scene);
  const field = rowField(grid, gradient);
  const cutter = cutterOf(region);
  const bendM = bendRadius(plan, choices.tubing);
  const isLongEnough = (path: Path): boolean => ground.surfaceLength(path) >= choices.emitterSpacingM - 1e-9;
  const cut = (rows: readonly RowLine[]) =>
    contourPieces(grid, field, rows, cutter, choices.rowSpacingM, bendM, isLongEnough);

  const across = acrossField(grid, field, (level) => cut([{ row: 0, level }]).pieces.length > 0);
  if (!across) return noRoom(scene);
  const most = across.groundM.at(-1)! / choices.rowSpacingM;
  if (most > MOST_ROWS) return tooManyRows(scene, most, MOST_ROWS);
  const lowEnd = lowEndOf(across);
  const spaced = spacedRows(across, choices.rowSpacingM, choices.lowerThirdFactor, lowEnd, choices.equalise);
  const densities = insideOf(grid, field.density);
  const { pieces: drawn, dropped } = cut(rowLines(spaced.v, shareOf(densities, MOST_OF_IT[0])));
  if (drawn.length === 0) return allTooShort(scene);

  const contour = contourDeg(gradient);
  const frame = frameAlong(contour ?? longEdgeDeg(bed.outline), bed.outline[0] ?? [0, 0]);
  const rings = edgeRings(region, frame);
  const reachM = TEE_REACH * choices.rowSpacingM;
  const { tees: atEnds, ends } = teesOf(drawn, cutter, reachM);
  const apart =
    choices.headers === 'both ends'
      ? headersOf(rings, frame, drawn, { tees: atEnds, ends }).map((part) => part.pieces)
      : [];
  const tees = [...atEnds, ...joiningTees(drawn, apart, cutter, reachM)];
  const middle = boxOf(region.flat())!;
  const guideU = frame.toFrame([(middle.minX + middle.maxX) / 2, (middle.minY + middle.maxY) / 2])[0];
  const pieces = drawn.map((piece) => {
    const place = whereAt(piece, guideU, frame.toFrame);
    return place ? { ...piece, guideM: ground.surfaceLength(place) } : piece;
  });
  const laid = layRuns({
    ground,
    frame,
    rings,
    pieces,
    choices,
    tees: { tees, ends },
    source: sourceNear(plan, bed.outline),
  });
  const rows = new Set(pieces.map(({ row }) => row)).size;
  const counted = figuresOf(ground, laid.runs, rows, pieces.length, spaced, choices, frame.directionDeg);
  const over = tooManyEmitters(scene, counted.figures);
  if (over) return over;

  const notes: FillNote[] = [];
  if (choices.lowerThirdFactor > 1 && lowEnd === null) notes.push({ kind: 'no-lower-third' });
  if (dropped > 0) notes.push({ kind: 'dropped', count: dropped });
  if (tees.length > 0 && choices.headers !== 'none')
    notes.push({ kind: 'tees', count: new Set(tees.map(({ piece }) => piece)).size });
  if (laid.starts.length > 1 && choices.headers !== 'none')
    notes.push({ kind: 'parts', count: laid.starts.length });
  if (laid.furtherHeaders > 0) notes.push({ kind: 'through-rows', headers: laid.furtherHeaders });
  const shares = densities.map(shareAsked).toSorted((a, b) => a - b);
  const [least, widest] = MOST_OF_IT.map((share) => shareOf(shares, share)) as [number, number];
  if (least < 1 - EVEN || widest > 1 + EVEN)
    notes.push({ kind: 'uneven', leastM: least * spaced.spacingM, mostM: widest * spaced.spacingM });
  notes.push(...bendNotes(plan, laid.runs));
  const steep = insideOf(grid, field.offContourDeg, (t) => field.slopePercent[t]! > OFF_CONTOUR.percent);
  const angleDeg = shareOf(steep, MOST_OF_IT[1]);
  if (angleDeg > OFF_CONTOUR.deg) notes.push({ kind: 'up-and-down', angleDeg, source: OFF_CONTOUR.source });
  if (!scene.quiet) notes.push(...limitNotes(plan, bed.id, ground, laid.runs, counted, choices, null));
  return good({
    runs: laid.runs,
    flushEnds: laid.flushEnds,
    starts: laid.starts,
    figures: counted.figures,
    notes,
  });
}

/** Spacing of the rows drawn over the one asked for, where the field is so dense: halved or doubled into its bounds. */
export function shareAsked(density: number): number {
  let share = 1 / Math.max(density, 1e-6);
  for (let k = 0; k < 3 && share > 2 * NEAREST_SHARE; k++) share /= 2;
  for (let k = 0; k < 3 && share < NEAREST_SHARE; k++) share *= 2;
  return share;
}

/** Whether the ground of a bed is as good as plane: at its corners, and over a net of places between. */
function isPlane({ ground, gradient, region }: BedScene): boolean {
  const box = boxOf(region.flat());
  if (ground.knows !== 'slope' || !box) return true;
  const faces = ground.faces(box);
  const places: Point[] = [...region.flat()];
  const cutter = cutterOf(region);
  for (const face of faces) for (const p of face.ring) if (cutter.contains(p)) places.push(p);
  for (let i = 0; i < 20; i++)
    for (let j = 0; j < 20; j++) {
      const p: Point = [
        box.minX + ((i + 0.5) * (box.maxX - box.minX)) / 20,
        box.minY + ((j + 0.5) * (box.maxY - box.minY)) / 20,
      ];
      if (cutter.contains(p)) places.push(p);
    }
  let [low, high] = [Infinity, -Infinity];
  for (const p of places) {
    const off = ground.heightAt(p).zM - gradient[0] * (p[0] - box.minX) - gradient[1] * (p[1] - box.minY);
    low = Math.min(low, off);
    high = Math.max(high, off);
  }
  return high - low <= 2 * PLANE_M;
}

/** The field from its first to its last level that holds a row, in the place of a width across straight rows. */
function acrossField(
  { triangles, zM, inside }: RowGrid,
  { values }: RowField,
  holds: (level: number) => boolean,
): AcrossGround | null {
  let [low, high] = [Infinity, -Infinity];
  const places: { value: number; z: number }[] = [];
  for (let t = 0; t < inside.length; t++) {
    if (!inside[t]) continue;
    const corners = [0, 1, 2].map((k) => triangles[3 * t + k]!);
    for (const c of corners) [low, high] = [Math.min(low, values[c]!), Math.max(high, values[c]!)];
    places.push({
      value: corners.reduce((sum, c) => sum + values[c]!, 0) / 3,
      z: corners.reduce((sum, c) => sum + zM[c]!, 0) / 3,
    });
  }
  if (!(high > low)) return null;
  const from = firstThat(holds, low, high);
  const to = firstThat(holds, high, low);
  if (from === null || to === null || !(to >= from)) return null;
  // How high the ground lies along the field: the mean of each of a dozen steps.
  const steps = 12;
  const v = Array.from({ length: steps + 1 }, (_, k) => from + ((to - from) * k) / steps);
  let last = places.length > 0 ? places.reduce((sum, { z }) => sum + z, 0) / places.length : 0;
  const heights = v.map((value) => {
    const near = places.filter((one) => Math.abs(one.value - value) <= (to - from) / steps);
    if (near.length > 0) last = near.reduce((sum, { z }) => sum + z, 0) / near.length;
    return last;
  });
  return { v, groundM: v.map((value) => value - from), zM: heights };
}

/** Values of the triangles within the bed, rising. */
function insideOf(
  { inside }: RowGrid,
  values: Float64Array,
  also: (triangle: number) => boolean = () => true,
): number[] {
  return [...values].filter((_, t) => inside[t] === 1 && also(t)).toSorted((a, b) => a - b);
}

function shareOf(rising: readonly number[], share: number): number {
  return rising[Math.min(rising.length - 1, Math.floor(share * rising.length))] ?? 0;
}

/** The path of a piece up to where it crosses the guide, if it does. */
function whereAt({ path, isClosed }: CurvedPiece, guideU: number, toFrame: (p: Point) => Point): Path | null {
  if (isClosed) return null;
  for (let i = 1; i < path.length; i++) {
    const [a, b] = [toFrame(path[i - 1]!)[0] - guideU, toFrame(path[i]!)[0] - guideU];
    if (a < 0 === b < 0 || distance(path[i - 1]!, path[i]!) === 0) continue;
    const share = a / (a - b);
    const [p, q] = [path[i - 1]!, path[i]!];
    return [...path.slice(0, i), [p[0] + (q[0] - p[0]) * share, p[1] + (q[1] - p[1]) * share]];
  }
  return null;
}
