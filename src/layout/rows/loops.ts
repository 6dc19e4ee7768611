import { distance, type Point } from '../../base/point.ts';
import { good, type Result } from '../../base/result.ts';
import { noRoom, tooManyEmitters, tooManyRows, type BedScene } from './bed-scene.ts';
import { bendNotes, bendRadius } from './bends.ts';
import { MOST_ROWS, type Filled, type FillNote, type NewRun } from './choices.ts';
import { firstOnClosed } from './closed-emitters.ts';
import { cutterOf } from './cut-line.ts';
import { figuresOf, limitNotes } from './figures.ts';
import { frameAlong, longEdgeDeg } from './frame.ts';
import { fromFeed, joinLines, openedOpposite } from './join-lines.ts';
import { loopLines } from './loop-lines.ts';
import { edgeRings, rowRange } from './pieces.ts';
import { sourceNear } from './source-near.ts';
import { acrossGround } from './spacing.ts';

/** Beds up to so many row spacings wide are narrow: loops suit them. */
export const NARROW = {
  spacings: 3,
  source:
    'common practice: narrow beds are looped, so that water comes from two sides; the number: common practice',
} as const;

/**
 * Loops of dripline along the edge of a bed, and further ones within while there is room, each one closed run that is
 * fed at one place, from both sides, and opened opposite; joined by short headers. Where a loop has no room a line along
 * the middle.
 */
export function loops(scene: BedScene): Result<Filled> {
  const { plan, bed, ground, region, choices } = scene;
  const { emitterSpacingM, rowSpacingM } = choices;
  const frame = frameAlong(longEdgeDeg(bed.outline), bed.outline[0] ?? [0, 0]);
  // Distances across the long edge are longer on the ground than in plan.
  const range = rowRange(edgeRings(region, frame), 0);
  const across = range && acrossGround(ground, frame, range.middleU, range.fromV, range.toV);
  const onGround = range && across ? across.groundM.at(-1)! / (range.toV - range.fromV) : 1;
  const factor = onGround > 0 && Number.isFinite(onGround) ? onGround : 1;
  const { lines, spacingM, widthM } = loopLines(
    region,
    rowSpacingM / factor,
    choices.equalise,
    emitterSpacingM,
    MOST_ROWS,
    bendRadius(plan, choices.tubing),
  );
  if (lines.length > MOST_ROWS) return tooManyRows(scene, lines.length, MOST_ROWS);
  if (lines.length === 0) return noRoom(scene);

  const source = sourceNear(plan, bed.outline);
  const away = (at: Point): number => (source ? distance(source, at) : ground.heightAt(at).zM);
  const joined = joinLines(lines, cutterOf(region), away);
  const runs: NewRun[] = [];
  const flushEnds: { run: number; end: 'start' | 'end' }[] = [];
  const numbers = { loop: 0, middle: 0 };
  const titles = { loop: 'Loop', middle: 'Middle line' };
  lines.forEach(({ path: drawn, isClosed, kind }, i) => {
    const feed = joined.feeds[i]!;
    const path = isClosed ? openedOpposite(drawn, feed) : fromFeed(drawn, feed);
    numbers[kind] += 1;
    runs.push({
      name: `${titles[kind]} ${numbers[kind]}`,
      path,
      tubing: choices.tubing,
      inline: {
        law: choices.law,
        ratedFlowLph: choices.ratedFlowLph,
        spacingM: emitterSpacingM,
        firstM: isClosed ? firstOnClosed(ground.surfaceLength(path), emitterSpacingM) : emitterSpacingM / 2,
      },
    });
    flushEnds.push({ run: i, end: 'end' });
    if (!isClosed && distance(path[0]!, feed) > 0.01) flushEnds.push({ run: i, end: 'start' });
  });
  joined.headers.forEach((path, i) => {
    const number = joined.headers.length > 1 ? ` ${i + 1}` : '';
    runs.push({ name: `Loop header${number}`, path, tubing: choices.headerTubing, inline: null });
  });

  const laid = figuresOf(
    ground,
    runs,
    lines.length,
    lines.length,
    { spacingM: spacingM * factor, lowerSpacingM: null },
    choices,
    frame.directionDeg,
  );
  const over = tooManyEmitters(scene, laid.figures);
  if (over) return over;
  const notes: FillNote[] = [];
  if (joined.starts.length > 1) notes.push({ kind: 'parts', count: joined.starts.length });
  if (numbers.middle > 0) notes.push({ kind: 'middle-line', count: numbers.middle });
  const narrowM = NARROW.spacings * rowSpacingM;
  if (widthM * factor > narrowM + 1e-6)
    notes.push({ kind: 'wide-for-loops', widthM: widthM * factor, mostM: narrowM, source: NARROW.source });
  notes.push(...bendNotes(plan, runs));
  // A loop is fed from both sides: half of it counts as its longest way.
  const lengthsM = laid.lengthsM.map((lengthM, i) => (lines[i]?.isClosed ? lengthM / 2 : lengthM));
  if (!scene.quiet)
    notes.push(...limitNotes(plan, bed.id, ground, runs, { ...laid, lengthsM }, choices, null));
  return good({ runs, flushEnds, starts: joined.starts, figures: laid.figures, notes });
}
