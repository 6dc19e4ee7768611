import { formatQuantity } from '../../../base/quantity.ts';
import type { UnitSystem } from '../../../base/units.ts';
import { agree, counted, listed } from '../../wording.ts';
import type { PipeGraph } from './graph.ts';
import { staysSpray } from './legs.ts';
import type { Described } from './describe.ts';

/** What a sentence needs to know besides the tie-in itself. */
export interface Telling {
  readonly graph: PipeGraph;
  readonly units: UnitSystem;
  readonly frostFree: boolean;
  /** The best tie-in of the zone, and the best single one. */
  readonly best: Described;
  readonly bestSingle: Described;
}

/** One sentence that explains the rank of a tie-in with its figures. */
export function whyOf(tieIn: Described, telling: Telling): string {
  const { best, units, graph } = telling;
  const lead = tieIn === best ? leadOfBest(tieIn, telling) : `Behind ${best.id}: ${against(tieIn, telling)}`;
  const facts = [legsOf(tieIn, units), drainingIn(tieIn, units), placeOf(tieIn), bedsIn(tieIn, units)];
  if (tieIn.pressureKpa !== null) {
    facts.push(
      `${formatQuantity('pressure', tieIn.pressureKpa, units)} left with ${formatQuantity('zoneFlow', tieIn.flowLph, units)} flowing`,
    );
  }
  const spray = graph.heads.filter(staysSpray).map(({ id }) => id);
  if (spray.length > 0) {
    facts.push(
      `but ${agree(spray.length, 'head', 'heads')} ${listed(spray)} ${agree(spray.length, 'stays', 'stay')} on this valve, so split the zone first`,
    );
  }
  return `${lead}; ${facts.filter((fact) => fact !== '').join(', ')}.`;
}

function leadOfBest(tieIn: Described, { bestSingle, units }: Telling): string {
  if (tieIn.isValve) return 'Best: no old pipe can be used without doubt, so start new from the valve';
  if (tieIn.places.length === 1)
    return tieIn.feasible ? 'Best' : `Best of what there is, but ${barredBy(tieIn)}`;
  const gained = tieIn.beds.filter((id) => !bestSingle.beds.includes(id));
  if (gained.length > 0) {
    return `Best as two tie-ins: ${bestSingle.id} alone does not reach ${agree(gained.length, 'bed', 'beds')} ${listed(gained)} without a new crossing`;
  }
  return `Best as two tie-ins: the second spares ${counted(bestSingle.cuts - tieIn.cuts, 'cut')} and ${litres(bestSingle.stagnantVolumeL - tieIn.stagnantVolumeL, units)} of still water`;
}

function barredBy({ barred }: Described): string {
  return barred === 'galvanised steel on the way'
    ? 'its water passes galvanised steel, which sheds flakes'
    : "its water passes assumed pipe: tie in on the valve's side of it, or trace it";
}

/** What puts a tie-in behind the best one: the first thing in the order of the ranking in which they differ. */
function against(tieIn: Described, { best, units, frostFree }: Telling): string {
  if (tieIn.barred !== best.barred && !tieIn.feasible) return barredBy(tieIn);
  if (tieIn.isValve)
    return `new pipe from the valve would give up ${litres(tieIn.deadLegVolumeL, units)} of old pipe that can serve`;
  if (!frostFree && !tieIn.drains && best.drains && !best.isValve) {
    return `${litres(tieIn.trappedVolumeL, units)} would not drain`;
  }
  if (tieIn.places.length === 2) return 'a second tie-in costs more than it spares';
  const more = biggest(tieIn, best);
  switch (more) {
    case 'deadLegs':
      return `${litres(tieIn.deadLegVolumeL, units)} in dead legs against ${litres(best.deadLegVolumeL, units)}`;
    case 'cuts':
      return `${counted(tieIn.cuts, 'cut')} against ${best.cuts}`;
    case 'notEndOfLine':
      return 'it is no end of line';
    case 'toBed':
      return `${metres(tieIn.distanceToBedM, units)} from the bed`;
    case 'crossings':
      return `${agree(tieIn.bedsMissed.length, 'bed', 'beds')} ${listed(tieIn.bedsMissed)} would need a new crossing`;
    case 'undrained':
    case 'trapped':
      return `${litres(tieIn.trappedVolumeL, units)} would not drain`;
    case 'pressure':
      return 'less pressure is left there';
    default:
      return 'as good, and named later';
  }
}

/** The part of the cost by which a tie-in is the most dearer than the best. */
function biggest(tieIn: Described, best: Described): keyof Described['cost'] | null {
  let most = 1e-6;
  let found: keyof Described['cost'] | null = null;
  for (const term of Object.keys(tieIn.cost) as (keyof Described['cost'])[]) {
    const more = tieIn.cost[term] - best.cost[term];
    if (more <= most) continue;
    most = more;
    found = term;
  }
  return found;
}

function litres(volumeL: number | null, units: UnitSystem): string {
  if (volumeL === null) return 'an unknown amount';
  return formatQuantity('volume', volumeL, units, { digits: Math.abs(volumeL) < 400 ? 2 : 0 });
}

function metres(lengthM: number | null, units: UnitSystem): string {
  return lengthM === null ? '' : formatQuantity('length', lengthM, units);
}

function legsOf(tieIn: Described, units: UnitSystem): string {
  if (tieIn.legs.length === 0) return 'no dead leg';
  const unknown =
    tieIn.deadLegUnknownM > 0 ? ` and ${metres(tieIn.deadLegUnknownM, units)} of unknown bore` : '';
  const done = [
    tieIn.cuts > 0 ? `${counted(tieIn.cuts, 'cut')}` : '',
    tieIn.stagnantVolumeL > 0 ? `${litres(tieIn.stagnantVolumeL, units)} stays` : '',
  ].filter((part) => part !== '');
  const known =
    tieIn.deadLegVolumeL === null ? metres(tieIn.deadLegLengthM, units) : litres(tieIn.deadLegVolumeL, units);
  return `${known}${tieIn.deadLegVolumeL === null ? ' of unknown bore' : unknown} in ${counted(tieIn.legs.length, 'dead leg')}${done.length > 0 ? ` (${done.join(', ')})` : ''}`;
}

function drainingIn(tieIn: Described, units: UnitSystem): string {
  if (tieIn.isValve) return '';
  return tieIn.drains ? 'all its water drains' : `${litres(tieIn.trappedVolumeL, units)} does not drain`;
}

function placeOf(tieIn: Described): string {
  if (tieIn.isValve) return '';
  if (tieIn.endOfLine) return tieIn.lowest ? 'end of line and lowest' : 'end of line';
  return tieIn.lowest ? 'lowest' : 'no end of line';
}

function bedsIn(tieIn: Described, units: UnitSystem): string {
  if (tieIn.distanceToBedM === null || tieIn.bedId === null) return '';
  const place =
    tieIn.distanceToBedM === 0
      ? `in bed ${tieIn.bedId}`
      : `${metres(tieIn.distanceToBedM, units)} from bed ${tieIn.bedId}`;
  if (tieIn.bedsMissed.length === 0) return place;
  return `${place}, without a way to ${listed(tieIn.bedsMissed)}`;
}
