import { difference, inset, regionOf, sectorRing, union, type Region } from '../../base/clip.ts';
import { directionDeg, distance, type Point } from '../../base/point.ts';
import { polygonContains } from '../../base/polygon.ts';
import { bad, good, type Result } from '../../base/result.ts';
import { FIRST_ROW } from '../../catalog/index.ts';
import { surfacesAmong } from '../../derive/existing/coverage/surfaces.ts';
import { groundOf, type Ground } from '../../derive/ground/index.ts';
import { intakeOf } from '../../derive/soil/index.ts';
import { isAbove } from '../../derive/wording.ts';
import type { Plan, Plant, RingChoices } from '../../plan/records.ts';
import { MOST_EMITTERS, type Filled, type FillNote, type NewRun } from '../rows/choices.ts';
import { countsOnClosed, firstOnClosed } from '../rows/closed-emitters.ts';
import { cutterOf, type CutPiece } from '../rows/cut-line.ts';
import { figuresOf, lengthNote } from '../rows/figures.ts';
import { fromFeed, joinLines, openedOpposite } from '../rows/join-lines.ts';
import { freshlyNamed } from '../rows/run-names.ts';
import { sourceNear } from '../rows/source-near.ts';
import { examinedRings } from './choices.ts';
import { ringAt, spiralFrom } from './ring-lines.ts';

/** Rings farther out than this from each other leave dry ground between whole canopies; more than so many are a slip. */
const MOST_RINGS = 200;

/** A ring or a spiral, or what was left of it. */
interface Piece {
  readonly ring: number;
  readonly piece: CutPiece;
}

/**
 * Rings or a spiral of dripline round a plant, from no nearer than is chosen to its stem out to the edge of its canopy,
 * radii and spacings measured on the ground. Where paving, buildings, lawns or other stems are in the way they are cut to
 * arcs. Rings are closed, joined by a header and fed from both sides; their far sides are flush ends. Pure: nothing is
 * added to the plan. Fails where there is no such plant, where a choice cannot be used, or where nothing has room.
 */
export function ringsRound(
  plan: Plan,
  plantId: string,
  choices: RingChoices,
  { quiet = false }: { readonly quiet?: boolean } = {},
): Result<Filled> {
  const plant = plan.plants.get(plantId);
  if (!plant) return bad('plant', `There is no plant “${plantId}” on the plan`, 'Choose a plant.');
  const sound = examinedRings(choices);
  if (!sound.ok) return sound;
  const name = plant.name.trim() || plant.id;
  const canopyM = choices.canopy === 'now' ? plant.canopyNowM : plant.canopyMatureM;
  if (canopyM === null)
    return bad(
      'canopy',
      `The canopy of “${name}” as it is now is not measured`,
      'Measure it, or ring the mature canopy.',
    );
  const radiusM = canopyM / 2;
  if (!(radiusM > 0) || !Number.isFinite(radiusM) || !plant.at.every(Number.isFinite))
    return bad('plant', `“${name}” has no canopy or no place`, 'Type its canopy, or set it on the plan.');
  const clearM = Math.max(choices.trunkClearM, 0.1);
  if (radiusM < clearM)
    return bad(
      'trunkClearM',
      `The canopy of “${name}” does not reach beyond the distance that is kept from its stem`,
      'Lessen that distance, or give a small plant point emitters.',
    );
  const spacingM = choices.ringSpacingM ?? radiusM / 3;
  if (radiusM / spacingM > MOST_RINGS)
    return bad('ringSpacingM', `“${name}” would have more than ${MOST_RINGS} rings`, 'Widen their distance.');
  if ((Math.PI * radiusM * radiusM) / spacingM / choices.emitterSpacingM > MOST_EMITTERS)
    return bad(
      'emitterSpacingM',
      `“${name}” would have more than ${MOST_EMITTERS} emitters`,
      'Widen the spacings.',
    );

  const ground = groundOf(plan);
  const source = sourceNear(plan, [plant.at]);
  const open = cutterOf(openAround(plan, plant, radiusM, clearM));
  const startDeg =
    source && distance(source, plant.at) > 0 ? directionDeg(plant.at, source) : lowestDeg(ground, plant.at);
  const radii = radiiOf(radiusM, clearM, choices.ringSpacingM);
  const whole =
    choices.form === 'spiral'
      ? [spiralFrom(ground, plant.at, radiusM, Math.min(clearM, radiusM), spacingM, startDeg)]
      : radii.kept.map((radius) => ringAt(ground, plant.at, radius));
  const isLongEnough = ({ path }: CutPiece): boolean =>
    ground.surfaceLength(path) >= choices.emitterSpacingM - 1e-9;
  const pieces = whole.flatMap((path, ring) =>
    open
      .cut(path)
      .filter(isLongEnough)
      .map((piece): Piece => ({ ring, piece })),
  );
  if (pieces.length === 0)
    return bad(
      'plant',
      `No ring round “${name}” has room for an emitter`,
      'Lessen the emitter spacing or the distance from the stem, or see what lies round it.',
    );

  const away = (at: Point): number => (source ? distance(source, at) : ground.heightAt(at).zM);
  const lines = pieces.map(({ piece }) => piece);
  const joined = joinLines(lines, open, away);
  const runs: NewRun[] = [];
  const flushEnds: { run: number; end: 'start' | 'end' }[] = [];
  const lengthsFed: number[] = [];
  const closed = lines.filter(({ isClosed }) => isClosed);
  const counts = countsOnClosed(
    closed.map(({ path }) => ground.surfaceLength(path)),
    choices.emitterSpacingM,
  );
  const countOf = new Map(closed.map((piece, i) => [piece, counts[i]!]));
  pieces.forEach(({ ring, piece }, i) => {
    const feed = joined.feeds[i]!;
    const path = piece.isClosed ? openedOpposite(piece.path, feed) : fromFeed(piece.path, feed);
    const lengthM = ground.surfaceLength(path);
    const same = pieces.filter((other) => other.ring === ring);
    const letter = same.length > 1 ? `-${same.findIndex((other) => other.piece === piece) + 1}` : '';
    runs.push({
      name: choices.form === 'spiral' ? `Spiral${letter}` : `Ring ${ring + 1}${letter}`,
      path,
      tubing: choices.tubing,
      inline: {
        law: choices.law,
        ratedFlowLph: choices.ratedFlowLph,
        spacingM: choices.emitterSpacingM,
        firstM: piece.isClosed
          ? firstOnClosed(lengthM, choices.emitterSpacingM, countOf.get(piece)!)
          : choices.emitterSpacingM / 2,
      },
    });
    flushEnds.push({ run: i, end: 'end' });
    // An arc that is fed in its middle has two ends.
    if (!piece.isClosed && distance(path[0]!, feed) > 0.01) flushEnds.push({ run: i, end: 'start' });
    lengthsFed.push(piece.isClosed ? lengthM / 2 : lengthM);
  });
  joined.headers.forEach((path, i) => {
    const number = joined.headers.length > 1 ? ` ${i + 1}` : '';
    runs.push({ name: `Ring header${number}`, path, tubing: choices.headerTubing, inline: null });
    lengthsFed.push(0);
  });

  const ringCount = new Set(pieces.map(({ ring }) => ring)).size;
  const counted = figuresOf(
    ground,
    runs,
    ringCount,
    pieces.length,
    { spacingM, lowerSpacingM: null },
    choices,
    0,
  );
  const notes: FillNote[] = [];
  const lost = radii.tooNear + whole.length - ringCount;
  if (choices.form === 'rings' && lost > 0) notes.push({ kind: 'rings-left-out', count: lost });
  const cut = new Set(
    pieces.filter(({ piece: { first, last } }) => first.ring >= 0 || last.ring >= 0).map(({ ring }) => ring),
  );
  if (cut.size > 0) notes.push({ kind: 'cut', count: cut.size });
  if (joined.starts.length > 1) notes.push({ kind: 'parts', count: joined.starts.length });
  const intake = intakeOf(plan.soil, ground.knows === 'slope' ? ground.slopeAt(plant.at).percent : null);
  const { rateMmPerH } = counted.figures;
  if (intake && isAbove(rateMmPerH, intake.mmPerH))
    notes.push({ kind: 'rate-over-intake', rateMmPerH, intakeMmPerH: intake.mmPerH, source: intake.source });
  if (!quiet) notes.push(...lengthNote(plan, ground, runs, lengthsFed, choices));
  const own = new Set(
    [...plan.fills].flatMap((fill) => (fill.kind === 'tree' && fill.plantId === plantId ? fill.runIds : [])),
  );
  return good({
    runs: freshlyNamed(plan, runs, name, own),
    flushEnds,
    starts: joined.starts,
    figures: counted.figures,
    notes,
  });
}

/** Radii of the rings, the innermost first, and how many would lie too near to the stem. */
export function radiiOf(
  radiusM: number,
  clearM: number,
  spacingM: number | null,
): { readonly kept: readonly number[]; readonly tooNear: number } {
  const all: number[] = [];
  if (spacingM === null) all.push(radiusM / 3, (2 * radiusM) / 3, radiusM);
  else for (let k = 0; radiusM - k * spacingM > 1e-6; k++) all.unshift(radiusM - k * spacingM);
  const kept = all.filter((radius) => radius >= clearM - 1e-9);
  // By a distance, rings simply end where the stem's ground begins.
  return { kept, tooNear: spacingM === null ? all.length - kept.length : 0 };
}

/**
 * Ground round a plant on which its rings may lie: beds that are islands in paving or are cut into a lawn count as beds.
 * A lawn in which it stands is no hindrance.
 */
function openAround(plan: Plan, plant: Plant, radiusM: number, clearM: number): Region {
  const { at } = plant;
  const reach = radiusM * 1.1 + 2 + FIRST_ROW.edgeM;
  const box: Point[] = [
    [at[0] - reach, at[1] - reach],
    [at[0] + reach, at[1] - reach],
    [at[0] + reach, at[1] + reach],
    [at[0] - reach, at[1] + reach],
  ];
  const { building, paving, lawn } = surfacesAmong(
    [...plan.areas].filter(
      ({ use, outline, holes }) => use !== 'lawn' || !polygonContains(outline, holes, at),
    ),
  );
  const edged = inset(difference(regionOf(box), union([building, paving, lawn])), FIRST_ROW.edgeM);
  const stems = [...plan.plants].filter(
    (other) =>
      other.id !== plant.id && other.plantClass === 'tree' && distance(other.at, at) < radiusM + clearM,
  );
  // Its own stem as well: on a slope rings come nearer to it in plan, never on the ground.
  return difference(edged, union(stems.map((other) => regionOf(sectorRing(other.at, clearM, 0, 360)))));
}

/** Direction in which the ground falls, for want of a source: water is brought to the low side. */
function lowestDeg(ground: Ground, at: Point): number {
  return ground.knows === 'slope' ? ground.slopeAt(at).fallDeg : 0;
}
