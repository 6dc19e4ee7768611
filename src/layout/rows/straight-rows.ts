import { good, type Result } from '../../base/result.ts';
import { allTooShort, noRoom, tooManyEmitters, tooManyRows, type BedScene } from './bed-scene.ts';
import { bendNotes } from './bends.ts';
import { MOST_ROWS, type Filled, type FillNote } from './choices.ts';
import { figuresOf, limitNotes } from './figures.ts';
import { contourDeg, frameAlong, rowDirection } from './frame.ts';
import { layRuns } from './lay-runs.ts';
import { edgeRings, piecesOf, rowRange } from './pieces.ts';
import { sourceNear } from './source-near.ts';
import { acrossGround, lowEndOf, spacedRows } from './spacing.ts';

/** Straight parallel rows, as far from each other as is chosen, measured on the ground. */
export function straightRows(scene: BedScene): Result<Filled> {
  const { plan, bed, ground, gradient, region, choices } = scene;
  const { emitterSpacingM } = choices;
  const { deg, isLevel } = rowDirection(choices.direction, bed.outline, gradient);
  const frame = frameAlong(deg, bed.outline[0] ?? [0, 0]);
  const rings = edgeRings(region, frame);
  const range = rowRange(rings, emitterSpacingM);
  if (!range) return noRoom(scene);
  const across = acrossGround(ground, frame, range.middleU, range.fromV, range.toV);
  const most = across.groundM.at(-1)! / choices.rowSpacingM;
  if (most > MOST_ROWS) return tooManyRows(scene, most, MOST_ROWS);
  const lowEnd = lowEndOf(across);
  const spaced = spacedRows(across, choices.rowSpacingM, choices.lowerThirdFactor, lowEnd, choices.equalise);
  const { pieces, dropped } = piecesOf(
    rings,
    frame,
    spaced.v,
    (a, b) => ground.surfaceLength([a, b]) >= emitterSpacingM - 1e-9,
  );
  if (pieces.length === 0) return allTooShort(scene);

  const source = sourceNear(plan, bed.outline);
  const laid = layRuns({ ground, frame, rings, pieces, choices, source });
  const rows = new Set(pieces.map(({ row }) => row)).size;
  const counted = figuresOf(ground, laid.runs, rows, pieces.length, spaced, choices, frame.directionDeg);
  const { figures } = counted;
  const over = tooManyEmitters(scene, figures);
  if (over) return over;
  const notes: FillNote[] = [];
  if (isLevel) notes.push({ kind: 'level' });
  if (choices.lowerThirdFactor > 1 && lowEnd === null) notes.push({ kind: 'no-lower-third' });
  if (dropped > 0) notes.push({ kind: 'dropped', count: dropped });
  if (laid.starts.length > 1 && choices.headers !== 'none')
    notes.push({ kind: 'parts', count: laid.starts.length });
  if (laid.furtherHeaders > 0) notes.push({ kind: 'through-rows', headers: laid.furtherHeaders });
  if (choices.headers === 'serpentine') notes.push(...bendNotes(plan, laid.runs));
  if (!scene.quiet)
    notes.push(...limitNotes(plan, bed.id, ground, laid.runs, counted, choices, contourDeg(gradient)));
  return good({ runs: laid.runs, flushEnds: laid.flushEnds, starts: laid.starts, figures, notes });
}
