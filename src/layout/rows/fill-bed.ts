import { difference, inset, regionOf, union, type Region } from '../../base/clip.ts';
import { bad, good, type Result } from '../../base/result.ts';
import { groundOf } from '../../derive/ground/index.ts';
import type { Area, AreaUse, Plan } from '../../plan/records.ts';
import {
  examined,
  MOST_EMITTERS,
  MOST_ROWS,
  type FillChoices,
  type Filled,
  type FillNote,
} from './choices.ts';
import { figuresOf, limitNotes } from './figures.ts';
import { contourDeg, frameAlong, meanGradient, rowDirection } from './frame.ts';
import { layRuns, sourceNear } from './lay-runs.ts';
import { edgeRings, piecesOf, rowRange } from './pieces.ts';
import { acrossGround, lowEndOf, spacedRows } from './spacing.ts';

/** Areas of these uses are never under dripline. */
const ALWAYS_OUT: readonly AreaUse[] = ['paving', 'building', 'lawn'];

/**
 * Rows of dripline for a bed, with headers. Rows are straight parallel lines, as far from the bed's outline, its holes
 * and what is left out as is chosen, and as far from each other as is chosen, measured on the ground. Pure: nothing is
 * added to the plan. Fails where there is no such bed, where a choice cannot be used, or where no row has room.
 */
export function fillBed(plan: Plan, areaId: string, choices: FillChoices): Result<Filled> {
  const bed = plan.areas.get(areaId);
  if (!bed) return bad('bed', `There is no area “${areaId}” on the plan`, 'Choose a bed.');
  const name = bed.name.trim() || bed.id;
  if (bed.use !== 'bed') return bad('bed', `“${name}” is ${bed.use}, not a bed`, 'Choose a bed.');
  const sound = examined(choices);
  if (!sound.ok) return sound;
  const { edgeM, emitterSpacingM } = choices;

  const ground = groundOf(plan);
  const gradient = meanGradient(ground, bed);
  const { deg, isLevel } = rowDirection(choices.direction, bed.outline, gradient);
  const frame = frameAlong(deg, bed.outline[0] ?? [0, 0]);
  const region = inset(openGround(plan, bed, choices.leaveOut), edgeM);
  const rings = edgeRings(region, frame);
  const range = rowRange(rings, emitterSpacingM);
  if (!range)
    return bad(
      'bed',
      `Bed “${name}” has no room for a row of at least one emitter spacing`,
      'Lessen the distance from the edge or the emitter spacing, or leave less out.',
    );
  const across = acrossGround(ground, frame, range.middleU, range.fromV, range.toV);
  const most = across.groundM.at(-1)! / choices.rowSpacingM;
  if (most > MOST_ROWS)
    return bad(
      'rowSpacingM',
      `Bed “${name}” would have about ${Math.round(most)} rows; at most ${MOST_ROWS} are drawn`,
      'Widen the row spacing, or split the bed.',
    );
  const lowEnd = lowEndOf(across);
  const spaced = spacedRows(across, choices.rowSpacingM, choices.lowerThirdFactor, lowEnd, choices.equalise);
  const { pieces, dropped } = piecesOf(
    rings,
    frame,
    spaced.v,
    (a, b) => ground.surfaceLength([a, b]) >= emitterSpacingM - 1e-9,
  );
  if (pieces.length === 0)
    return bad(
      'bed',
      `All rows of bed “${name}” would be shorter than one emitter spacing`,
      'Lessen the emitter spacing, or turn the rows.',
    );

  const laid = layRuns({ ground, frame, rings, pieces, choices, source: sourceNear(plan, bed) });
  const rows = new Set(pieces.map(({ row }) => row)).size;
  const counted = figuresOf(ground, laid.runs, rows, pieces.length, spaced, choices, frame.directionDeg);
  const { figures } = counted;
  if (figures.emitters > MOST_EMITTERS)
    return bad(
      'emitterSpacingM',
      `Bed “${name}” would have ${figures.emitters} emitters; at most ${MOST_EMITTERS} are drawn`,
      'Widen the spacings, or split the bed.',
    );
  const notes: FillNote[] = [];
  if (isLevel) notes.push({ kind: 'level' });
  if (choices.lowerThirdFactor > 1 && lowEnd === null) notes.push({ kind: 'no-lower-third' });
  if (dropped > 0) notes.push({ kind: 'dropped', count: dropped });
  if (laid.starts.length > 1) notes.push({ kind: 'parts', count: laid.starts.length });
  if (laid.furtherHeaders > 0) notes.push({ kind: 'through-rows', headers: laid.furtherHeaders });
  notes.push(...limitNotes(plan, areaId, ground, laid.runs, counted, choices, contourDeg(gradient)));
  return good({ runs: laid.runs, flushEnds: laid.flushEnds, starts: laid.starts, figures, notes });
}

/** Ground of a bed in which dripline may lie, before the distance from its edge. */
function openGround(plan: Plan, bed: Area, leaveOut: readonly string[]): Region {
  const out = [...plan.areas].filter(
    ({ id, use }) => id !== bed.id && (ALWAYS_OUT.includes(use) || leaveOut.includes(id)),
  );
  return difference(
    regionOf(bed.outline, bed.holes),
    union(out.map(({ outline, holes }) => regionOf(outline, holes))),
  );
}
