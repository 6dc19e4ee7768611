import type { Point } from '../../base/point.ts';
import { formatQuantity, type UnitSystem } from '../../base/quantity.ts';
import { tubingById } from '../../catalog/index.ts';
import { VELOCITY_LIMIT_MS } from '../../derive/checks/velocity-limit.ts';
import { agree, counted } from '../../derive/wording.ts';
import { plantsOf } from '../../plan/emitter-plants.ts';
import type { Hung } from './hang.ts';
import { GROUND, lengthOn, type OpenGround } from './open-ground.ts';
import type { PointNote } from './note.ts';
import type { Placed } from './place.ts';

/** Tubing that only brushes the edge of paving by no more than this needs no sleeve, metres. */
const BRUSHES_M = 0.05;

/** What the person should know of tubing and feeders: crossings, long feeders, emitters without tubing. */
export function routeNotes(
  placed: readonly Placed[],
  hung: readonly (Hung | null)[],
  runs: readonly (readonly Point[])[],
  limitM: number,
  open: OpenGround,
  units: UnitSystem,
): PointNote[] {
  const notes: PointNote[] = [];
  const crossing = (kind: 3 | 4): number =>
    runs.reduce((sum, path) => {
      const length = lengthOn(open, path, kind);
      return length > BRUSHES_M ? sum + length : sum;
    }, 0);
  const pavedM = crossing(GROUND.paving);
  if (pavedM > 0) {
    notes.push({
      rule: 'sleeve',
      message: `${formatQuantity('length', pavedM, units)} of tubing pass under paving, as there is no way round: lay a sleeve of twice the diameter there. Have buried utilities marked before anyone digs.`,
      refs: [],
    });
  }
  const builtM = crossing(GROUND.blocked);
  if (builtM > 0) {
    notes.push({
      rule: 'building',
      message: `${formatQuantity('length', builtM, units)} of tubing pass under a building, a wall or what is left out of a bed: there is no way round. Draw that part by hand, or begin at another place.`,
      refs: [],
    });
  }
  const plantsWhere = (which: (one: Hung | null) => boolean): string[] => [
    ...new Set(placed.filter((_, i) => which(hung[i] ?? null)).flatMap(plantsOf)),
  ];
  const refs = (ids: readonly string[]): PointNote['refs'] => ids.map((id) => ({ table: 'plants', id }));
  const lost = plantsWhere((one) => one === null);
  if (lost.length > 0) {
    notes.push({
      rule: 'no-tubing',
      message:
        'There is no blank tubing for the emitters to hang on: have it drawn, or draw it with the tool Tubing.',
      refs: refs(lost),
    });
  }
  const long = plantsWhere((one) => one !== null && one.feederM > limitM + 1e-9);
  if (long.length > 0) {
    notes.push({
      rule: 'feeder-long',
      message: `${counted(long.length, 'plant')} ${agree(long.length, 'has', 'have')} a feeder over ${formatQuantity('length', limitM, units)}: lead tubing nearer.`,
      refs: refs(long),
    });
  }
  const crossed = plantsWhere((one) => one !== null && one.crosses);
  if (crossed.length > 0) {
    notes.push({
      rule: 'feeder-crosses',
      message: `Feeders to ${counted(crossed.length, 'plant')} cross paving or a wall: lead tubing to the other side.`,
      refs: refs(crossed),
    });
  }
  return notes;
}

/** Told where all that hangs on the new tubing is more than it carries at the usual limit of speed. */
export function flowNote(
  placed: readonly Placed[],
  hung: readonly (Hung | null)[],
  runs: readonly (readonly Point[])[],
  tubing: string,
  units: UnitSystem,
): PointNote | null {
  const boreM = (tubingById(tubing)?.innerDiameterMm ?? 0) / 1000;
  if (runs.length === 0 || !(boreM > 0)) return null;
  const flowLph = placed.reduce((sum, { ratedFlowLph }, i) => {
    const on = hung[i];
    return on && 'number' in on.run ? sum + ratedFlowLph : sum;
  }, 0);
  const mostLph = ((Math.PI * boreM ** 2) / 4) * VELOCITY_LIMIT_MS * 3600 * 1000;
  if (flowLph <= mostLph) return null;
  const shown = (lph: number): string => formatQuantity('zoneFlow', lph, units);
  return {
    rule: 'flow-high',
    message: `${shown(flowLph)} would go through one tubing, which carries ${shown(mostLph)} at ${formatQuantity('velocity', VELOCITY_LIMIT_MS, units)}: take wider tubing, or fewer plants for each control set.`,
    refs: [],
  };
}
