import { litresIn } from '../../derive/existing/index.ts';
import {
  FIRST_ROW,
  driplineForSoil,
  outletLawById,
  tubingById,
  tubingCarries,
  tubingFor,
} from '../../catalog/index.ts';
import type { Path } from '../../base/point.ts';
import { PSI_KPA } from '../../base/units.ts';
import { longestRun } from '../../derive/limits/longest-run.ts';
import { bedSlope, intakeOf, textureOf } from '../../derive/soil/index.ts';
import type { Ground } from '../../derive/ground/index.ts';
import type { Plan } from '../../plan/records.ts';
import type { FillChoices, FillFigures, FillNote, NewRun } from './choices.ts';
import { isAbove } from '../../derive/wording.ts';
import { angleBetween } from './frame.ts';
import type { Spaced } from './spacing.ts';
import { zoneFlowNote } from './zone-flow.ts';

/** Pressure behind a regulator where no control set says another, kPa: 25 psi, common practice. */
const USUAL_INLET_KPA = 25 * PSI_KPA;
/** Rows up and down a slope: more than this off the contour on more than that slope (common practice). */
export const OFF_CONTOUR = {
  deg: 15,
  percent: 8,
  source:
    'Stryker, irrigation tutorials, drip on slopes; Flagstaff AZ 13-19-001; the numbers: common practice',
} as const;

/** Emitters that a run holds: the first at its distance, then one every spacing. */
export function emittersOn(lengthM: number, { inline }: Pick<NewRun, 'inline'>): number {
  return inline ? Math.max(0, Math.floor((lengthM - inline.firstM) / inline.spacingM + 1e-6) + 1) : 0;
}

/** Flow of an emitter over its share of the ground, mm/h: 231 x gph / (row in x emitter in) in inches an hour. */
export function rateMmPerH(ratedFlowLph: number, rowSpacingM: number, emitterSpacingM: number): number {
  return ratedFlowLph / (rowSpacingM * emitterSpacingM);
}

export interface Laid {
  readonly figures: FillFigures;
  /** Ground length by run, metres. */
  readonly lengthsM: readonly number[];
}

export function figuresOf(
  ground: Ground,
  runs: readonly NewRun[],
  rows: number,
  pieces: number,
  { spacingM, lowerSpacingM }: Pick<Spaced, 'spacingM' | 'lowerSpacingM'>,
  choices: Pick<FillChoices, 'ratedFlowLph' | 'emitterSpacingM'>,
  directionDeg: number,
): Laid {
  const lengthsM = runs.map(({ path }) => ground.surfaceLength(path));
  const sum = (of: (run: NewRun, lengthM: number) => number): number =>
    runs.reduce((total, run, i) => total + of(run, lengthsM[i]!), 0);
  const emitters = sum((run, lengthM) => emittersOn(lengthM, run));
  return {
    lengthsM,
    figures: {
      rows,
      pieces,
      rowSpacingM: spacingM,
      lowerSpacingM,
      lengthM: sum(({ inline }, lengthM) => (inline ? lengthM : 0)),
      headerLengthM: sum(({ inline }, lengthM) => (inline ? 0 : lengthM)),
      emitters,
      flowLph: emitters * choices.ratedFlowLph,
      rateMmPerH: rateMmPerH(choices.ratedFlowLph, spacingM, choices.emitterSpacingM),
      volumeL: sum(({ tubing }, lengthM) => litresIn(tubingById(tubing)!.innerDiameterMm, lengthM)),
      directionDeg,
    },
  };
}

/** What of a fill's figures goes beyond a limit. */
export function limitNotes(
  plan: Plan,
  areaId: string,
  ground: Ground,
  runs: readonly NewRun[],
  { figures, lengthsM }: Laid,
  choices: FillChoices,
  contour: number | null,
): FillNote[] {
  const notes: FillNote[] = [];
  const slope = bedSlope(plan, areaId)?.meanPercent ?? null;
  const intake = intakeOf(plan.soil, slope);
  if (intake && isAbove(figures.rateMmPerH, intake.mmPerH))
    notes.push({
      kind: 'rate-over-intake',
      rateMmPerH: figures.rateMmPerH,
      intakeMmPerH: intake.mmPerH,
      source: intake.source,
    });
  const { texture } = textureOf(plan.soil);
  if (texture !== null) {
    const { spreadM, source } = driplineForSoil(texture);
    const widest = Math.max(choices.emitterSpacingM, choices.rowSpacingM);
    if (widest > spreadM * (1 + 1e-6)) notes.push({ kind: 'over-spread', spreadM, source });
  }
  if (choices.edgeM < FIRST_ROW.leastM - 1e-9 || choices.edgeM > FIRST_ROW.mostM + 1e-9) {
    const { leastM, mostM, source } = FIRST_ROW;
    notes.push({ kind: 'edge', leastM, mostM, source });
  }
  if (contour !== null && slope !== null && slope > OFF_CONTOUR.percent) {
    const angleDeg = angleBetween(contour, figures.directionDeg);
    if (angleDeg > OFF_CONTOUR.deg) notes.push({ kind: 'up-and-down', angleDeg, source: OFF_CONTOUR.source });
  }
  notes.push(...lengthNote(plan, ground, runs, lengthsM, choices));
  const longestM = runs.reduce((most, { inline }, i) => (inline ? most : Math.max(most, lengthsM[i]!)), 0);
  notes.push(
    ...headerNote(choices.headerTubing, longestM, figures.flowLph),
    ...zoneFlowNote(plan, areaId, figures.flowLph),
  );
  return notes;
}

/** Headers that carry more than their tubing does, or are longer than it is laid. */
function headerNote(tubing: string, longestM: number, carriesLph: number): FillNote[] {
  const own = tubingById(tubing);
  if (!own || !(longestM > 0)) return [];
  const { flowLph, lengthM, source } = tubingCarries(own.innerDiameterMm);
  const isFull = isAbove(carriesLph, flowLph);
  if (!isFull && !(lengthM !== null && isAbove(longestM, lengthM))) return [];
  const wider = tubingFor('blank').find(({ innerDiameterMm }) => {
    const can = tubingCarries(innerDiameterMm);
    const isLongEnough = can.lengthM === null || !isAbove(longestM, can.lengthM);
    return innerDiameterMm > own.innerDiameterMm && isLongEnough && !isAbove(carriesLph, can.flowLph);
  });
  return [
    {
      kind: 'header',
      tubing: own.name,
      carriesLph,
      flowLph,
      longestM,
      lengthM,
      wider: wider?.name ?? null,
      source,
    },
  ];
}

/** Rows that are longer than a lateral of their dripline and slope may be when it is fed at one end. */
export function lengthNote(
  plan: Plan,
  ground: Ground,
  runs: readonly NewRun[],
  lengthsM: readonly number[],
  {
    tubing,
    law,
    ratedFlowLph,
    emitterSpacingM,
  }: Pick<FillChoices, 'tubing' | 'law' | 'ratedFlowLph' | 'emitterSpacingM'>,
): FillNote[] {
  let at = -1;
  runs.forEach(({ inline }, i) => {
    if (inline && (at < 0 || lengthsM[i]! > lengthsM[at]!)) at = i;
  });
  const longest = runs[at];
  if (!longest) return [];
  const longestM = lengthsM[at]!;
  const emitter = outletLawById(law)!;
  const set = [...plan.controls].map(({ setKpa }) => setKpa);
  const inletKpa = Math.min(set.length ? Math.min(...set) : USUAL_INLET_KPA, emitter.maxKpa);
  const limit = longestRun({
    tubing,
    law,
    ratedFlowLph,
    spacingM: emitterSpacingM,
    inletKpa,
    slopePercent: slopeOf(ground, longest.path, longestM),
    limit: emitter.compensating ? 'min-pressure' : 'flow-variation-10',
    ...(plan.water.waterC === null ? {} : { waterC: plan.water.waterC }),
  });
  const count = lengthsM.filter((lengthM, i) => runs[i]!.inline && lengthM > limit.lengthM).length;
  return count > 0 ? [{ kind: 'over-limit', count, longestM, limitM: limit.lengthM, inletKpa }] : [];
}

/** Rise over the whole run, percent of the way in plan. */
function slopeOf(ground: Ground, path: Path, groundLengthM: number): number {
  const riseM = ground.heightAt(path.at(-1)!).zM - ground.heightAt(path[0]!).zM;
  const planM = Math.sqrt(Math.max(0, groundLengthM ** 2 - riseM ** 2));
  return planM > 0 ? (100 * riseM) / planM : 0;
}
