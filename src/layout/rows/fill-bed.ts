import { inset } from '../../base/clip.ts';
import { bad, good, type Result } from '../../base/result.ts';
import { groundOf } from '../../derive/ground/index.ts';
import type { Plan } from '../../plan/records.ts';
import { openGround, type BedScene } from './bed-scene.ts';
import { examined, type FillChoices, type Filled } from './choices.ts';
import { curvedRows } from './curved-rows.ts';
import { runsInBed } from './fill-edit.ts';
import { meanGradient } from './frame.ts';
import { loops } from './loops.ts';
import { offRings } from './ring-ground.ts';
import { freshlyNamed } from './run-names.ts';
import { straightRows } from './straight-rows.ts';

/**
 * Dripline for a bed: straight rows, rows that follow the contour lines of curved ground, or loops along the edge, with
 * headers; as far from the bed's outline, its holes and what is left out as is chosen, and as far from each other as is
 * chosen, measured on the ground. Names are none that other runs of the plan bear. Pure: nothing is added to the plan.
 * `quiet` leaves out the notes on limits. Fails where there is no such bed, where a choice cannot be used, or where no row has room.
 */
export function fillBed(
  plan: Plan,
  areaId: string,
  choices: FillChoices,
  { quiet = false }: { readonly quiet?: boolean } = {},
): Result<Filled> {
  const bed = plan.areas.get(areaId);
  if (!bed) return bad('bed', `There is no area “${areaId}” on the plan`, 'Choose a bed.');
  const name = bed.name.trim() || bed.id;
  if (bed.use !== 'bed') return bad('bed', `“${name}” is ${bed.use}, not a bed`, 'Choose a bed.');
  const sound = examined(choices);
  if (!sound.ok) return sound;
  const ground = groundOf(plan);
  const scene: BedScene = {
    plan,
    bed,
    name,
    ground,
    gradient: meanGradient(ground, bed),
    region: inset(
      // The distance from edges is kept from the rings as well.
      offRings(
        plan,
        openGround(plan, bed, choices.leaveOut),
        Math.max(0, choices.rowSpacingM / 2 - choices.edgeM),
      ),
      choices.edgeM,
    ),
    choices,
    quiet,
  };
  const filled = byPattern(scene);
  if (!filled.ok) return filled;
  const own = new Set([
    ...runsInBed(plan, areaId).map(({ id }) => id),
    ...[...plan.fills].flatMap((fill) => (fill.kind === 'bed' && fill.areaId === areaId ? fill.runIds : [])),
  ]);
  return good({ ...filled.value, runs: freshlyNamed(plan, filled.value.runs, name, own) });
}

function byPattern(scene: BedScene): Result<Filled> {
  switch (scene.choices.pattern) {
    case 'straight':
      return straightRows(scene);
    case 'curved':
      return curvedRows(scene);
    case 'loops':
      return loops(scene);
  }
}
