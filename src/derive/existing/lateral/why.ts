import { formatQuantity } from '../../../base/quantity.ts';
import { FOOT_M, PSI_KPA, type UnitSystem } from '../../../base/units.ts';
import { agree, counted, listed } from '../../wording.ts';
import { NEAR_BED_M } from './beds.ts';
import type { Described } from './describe.ts';

/** What a sentence needs to know besides the tie-in itself. */
export interface Telling {
  readonly units: UnitSystem;
  /** A bed as the person calls it. */
  bedName(id: string): string;
  /** All old pipe of the zone is level, or taken to be. */
  readonly isLevel: boolean;
  /** Joints on known pipe at which assumed pipe begins. */
  readonly lastKnown: ReadonlySet<string>;
  /** The best tie-in of the zone, and the best single one. */
  readonly best: Described;
  readonly bestSingle: Described;
}

/** Faster water than this is worth a word: 5 ft/s (usual limit for pipe). */
const FAST_MS = 5 * FOOT_M;
/** Pressures that differ by less are the same to a person. */
const SAME_KPA = 0.5 * PSI_KPA;

/** What a fact is about: what has been said already is not said again. */
type Topic = 'dead' | 'drain' | 'place' | 'beds' | 'pressure' | 'fast';

/**
 * One sentence that explains the rank of a tie-in with its figures: of the best one what it is good for, of any other
 * first what puts it behind the best, then only what differs.
 */
export function whyOf(tieIn: Described, telling: Telling): string {
  const { best, units } = telling;
  const [lead, told] = tieIn === best ? leadOfBest(tieIn, telling) : leadOfOther(tieIn, telling);
  const all: readonly (readonly [Topic, string])[] = [
    ['place', placeOf(tieIn, telling)],
    ['drain', drainingOf(tieIn, units)],
    ['dead', legsOf(tieIn, units)],
    ['beds', bedsOf(tieIn, telling)],
    ['pressure', pressureOf(tieIn, units)],
    ['fast', fastOf(tieIn, units)],
  ];
  const facts = all
    .filter(([topic, fact]) => fact !== '' && !told.includes(topic))
    .filter(([topic]) => tieIn === best || differs(topic, tieIn, telling))
    .map(([, fact]) => fact);
  const first = afterSplit(tieIn, tieIn === best, lead);
  if (facts.length === 0) return `${first}.`;
  return `${first}${/best$/i.test(first) ? ':' : ';'} ${facts.join('; ')}.`;
}

/** Where heads stay sprays there is no tie-in before the split; the best one says which heads, the others only that. */
function afterSplit({ untilSplit }: Described, isBest: boolean, lead: string): string {
  if (untilSplit.length === 0) return lead;
  const then = lead.charAt(0).toLowerCase() + lead.slice(1);
  if (!isBest) return `After the split ${then}`;
  const heads = `${agree(untilSplit.length, 'head', 'heads')} ${listed(untilSplit)}`;
  return `None until the zone is split, as ${heads} ${agree(untilSplit.length, 'stays a spray', 'stay sprays')} on this valve; then ${then}`;
}

type Lead = readonly [text: string, told: readonly Topic[]];
const ALL: readonly Topic[] = ['dead', 'drain', 'place', 'beds', 'pressure', 'fast'];

function leadOfBest(tieIn: Described, { bestSingle, units, bedName }: Telling): Lead {
  if (tieIn.isValve) {
    return tieIn.mainEnd === null
      ? ['Best: start new from the valve, as no old pipe can be used without doubt', ['place', 'drain']]
      : ['Best: start new from the valve, as its rays are too small to share', ['place', 'drain']];
  }
  if (tieIn.places.length === 1) {
    return [tieIn.barred === 'no' ? 'Best' : `Best of what there is, but ${barredBy(tieIn)}`, []];
  }
  const gained = tieIn.beds.filter((id) => !bestSingle.beds.includes(id));
  if (gained.length > 0) {
    return [
      `Best as two tie-ins: ${bestSingle.id} alone does not reach ${agree(gained.length, 'bed', 'beds')} ${listed(gained.map(bedName))} without a new crossing`,
      [],
    ];
  }
  const cuts = bestSingle.cuts - tieIn.cuts;
  const stillL = bestSingle.stagnantVolumeL - tieIn.stagnantVolumeL;
  const spared = [
    cuts > 0 ? counted(cuts, 'cut') : '',
    stillL > 0.005 ? `${litres(stillL, units)} of still water` : '',
  ].filter((part) => part !== '');
  return [`Best as two tie-ins: the second spares ${spared.join(' and ')}`, []];
}

function barredBy({ barred }: Described): string {
  return barred === 'galvanised steel on the way'
    ? 'its water passes galvanised steel, which sheds flakes'
    : "its water passes assumed pipe: tie in on the valve's side of it, or trace it";
}

/** What puts a tie-in behind the best one: what bars it, else the part of the cost in which it is the most dearer. */
function leadOfOther(tieIn: Described, { best, units, bedName }: Telling): Lead {
  const behind = (text: string, ...told: readonly Topic[]): Lead => [`Behind ${best.id}: ${text}`, told];
  if (tieIn.barred !== best.barred && tieIn.barred !== 'no') return behind(barredBy(tieIn), ...ALL);
  if (tieIn.isValve) {
    return behind(
      `new pipe from the valve would give up old pipe that can serve (${deadAmount(tieIn, units)})`,
      'dead',
      'drain',
      'place',
      'pressure',
    );
  }
  if (tieIn.bedsMissed.length > best.bedsMissed.length) {
    return behind(
      `${agree(tieIn.bedsMissed.length, 'bed', 'beds')} ${listed(tieIn.bedsMissed.map(bedName))} would need a new crossing`,
      'beds',
    );
  }
  if (tieIn.places.length === 2 && best.places.length === 1) {
    return behind('a second tie-in costs more than it spares');
  }
  switch (biggest(tieIn, best)) {
    case 'deadLegs':
      return deadAgainst(tieIn, best, units, behind);
    case 'cuts':
      return behind(`${counted(tieIn.cuts, 'cut')} against ${best.cuts || 'none'}`, 'dead');
    case 'notEndOfLine':
      return behind('no end of line', 'place');
    case 'toBed':
      return behind(`${metres(tieIn.distanceToBedM, units)} from the bed`, 'beds');
    case 'undrained':
      return behind(`${litres(tieIn.trappedVolumeL, units)} would not drain`, 'drain');
    case 'rise':
      return behind('it lies higher');
    case 'spur':
      return behind(onSpur(tieIn), 'place');
    case 'pressure':
      return behind(
        tieIn.pressureKpa === null || best.pressureKpa === null
          ? 'more lift or friction on the way'
          : `${pressureOf(tieIn, units)} against ${formatQuantity('pressure', best.pressureKpa, units)}`,
        'pressure',
      );
    default:
      return [`As good as ${best.id}`, ALL];
  }
}

function deadAgainst(
  tieIn: Described,
  best: Described,
  units: UnitSystem,
  behind: (text: string, ...told: readonly Topic[]) => Lead,
): Lead {
  if (tieIn.deadLegVolumeL === null || best.deadLegVolumeL === null || tieIn.deadLegUnknownM > 0) {
    const there = best.legs.length === 0 ? 'none' : metres(best.deadLegLengthM, units);
    return behind(`${metres(tieIn.deadLegLengthM, units)} of dead leg against ${there}`, 'dead');
  }
  const [more, less] = [litres(tieIn.deadLegVolumeL, units), litres(best.deadLegVolumeL, units)];
  if (more === less) return behind('a little more in dead legs', 'dead');
  if (best.legs.length === 0) return behind(legsOf(tieIn, units), 'dead');
  const cuts =
    tieIn.cuts === best.cuts ? '' : `, ${counted(tieIn.cuts, 'cut')} against ${best.cuts || 'none'}`;
  return behind(`${more} in dead legs against ${less}${cuts}`, 'dead');
}

/** Words for pipe that is left behind in any case. */
function onSpur({ spur }: Described): string {
  switch (spur) {
    case 'tooth':
      return 'on a tooth of the comb, which is cut at the header';
    case 'ray':
      return 'on a ray, too small to share';
    case 'pipe of sprays':
      return 'on pipe that feeds only heads that stay sprays';
    default:
      return 'on swing pipe, which is thin and pops off';
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

/** Whether a fact about a tie-in is another one than about the best. */
function differs(topic: Topic, tieIn: Described, telling: Telling): boolean {
  const { best } = telling;
  switch (topic) {
    case 'place':
      return best.places.length === 1 && placeOf(tieIn, telling) !== placeOf(best, telling);
    case 'drain':
      return tieIn.drains !== best.drains || Math.abs(tieIn.trappedVolumeL - best.trappedVolumeL) > 0.02;
    case 'dead':
      return (
        Math.abs((tieIn.deadLegVolumeL ?? 0) - (best.deadLegVolumeL ?? 0)) > 0.02 ||
        tieIn.cuts !== best.cuts ||
        Math.abs(tieIn.stagnantVolumeL - best.stagnantVolumeL) > 0.02
      );
    case 'beds':
      return tieIn.bedsMissed.length > 0 || (tieIn.distanceToBedM ?? 0) > NEAR_BED_M + 1e-6;
    case 'pressure':
      return Math.abs((tieIn.pressureKpa ?? 0) - (best.pressureKpa ?? 0)) >= SAME_KPA;
    case 'fast':
      return !isFast(best.velocityMs);
    default:
      return true;
  }
}

function litres(volumeL: number | null, units: UnitSystem): string {
  if (volumeL === null) return 'an unknown amount';
  return formatQuantity('volume', volumeL, units, { digits: Math.abs(volumeL) < 400 ? 2 : 0 });
}

function metres(lengthM: number | null, units: UnitSystem): string {
  return lengthM === null ? '' : formatQuantity('length', lengthM, units);
}

function placeOf(tieIn: Described, { isLevel, lastKnown }: Telling): string {
  if (tieIn.isValve || tieIn.places.length > 1) return '';
  if (tieIn.spur) return onSpur(tieIn);
  const lowest = tieIn.lowest && !isLevel;
  if (tieIn.barred === 'no' && lastKnown.has(tieIn.node)) return 'as far as the pipe is known';
  if (!tieIn.endOfLine) return lowest ? 'lowest, but no end of line' : 'no end of line';
  const end = tieIn.mainEnd ?? 'end of line';
  return lowest ? `${end}, lowest` : end;
}

function drainingOf(tieIn: Described, units: UnitSystem): string {
  if (tieIn.isValve) return '';
  if (tieIn.drains === null) return 'levels not measured, so draining is not known';
  if (tieIn.drains) return 'all its water drains';
  return `${litres(tieIn.trappedVolumeL, units)} does not drain by itself${atLow(tieIn)}`;
}

/** Where the drain belongs. */
function atLow({ drainAt }: Described): string {
  return drainAt.length === 0 ? '' : `: set a drain at ${listed(drainAt, 2)}`;
}

function deadAmount(tieIn: Described, units: UnitSystem): string {
  const { deadLegVolumeL, deadLegLengthM, deadLegUnknownM } = tieIn;
  if (deadLegVolumeL === null) return `${metres(deadLegLengthM, units)} of unknown bore`;
  const unknown = deadLegUnknownM > 0 ? ` and ${metres(deadLegUnknownM, units)} of unknown bore` : '';
  return `${litres(deadLegVolumeL, units)}${unknown}`;
}

function legsOf(tieIn: Described, units: UnitSystem): string {
  const { legs, cuts, stagnantVolumeL } = tieIn;
  if (legs.length === 0) return 'no dead leg';
  const all = Math.abs(stagnantVolumeL - (tieIn.deadLegVolumeL ?? Infinity)) < 0.005;
  const ring = legs.find(({ joints }) => joints.length > 1);
  const done = [
    cuts > 0 ? counted(cuts, 'cut') : '',
    ring ? `ring opened between ${ring.joints.slice(0, 2).join(' and ')}` : '',
    stagnantVolumeL > 0.005 ? `${all ? 'all' : litres(stagnantVolumeL, units)} stays` : '',
  ].filter((part) => part !== '');
  return `${deadAmount(tieIn, units)} in ${counted(legs.length, 'dead leg')}${done.length > 0 ? ` (${done.join(', ')})` : ''}`;
}

function bedsOf(tieIn: Described, { units, bedName }: Telling): string {
  const { distanceToBedM, bedId, bedsMissed, further } = tieIn;
  if (distanceToBedM === null || bedId === null) return '';
  const missed = `${agree(bedsMissed.length, 'bed', 'beds')} ${listed(bedsMissed.map(bedName))}`;
  const parts = [
    distanceToBedM > NEAR_BED_M + 1e-6 ? `${metres(distanceToBedM, units)} from bed ${bedName(bedId)}` : '',
    bedsMissed.length === 0 ? '' : `no way to ${missed} without a crossing`,
    further.length === 0 ? '' : `the pipe passes there: tie in at ${listed(further)} too`,
  ];
  return parts.filter((part) => part !== '').join(', ');
}

function pressureOf({ pressureKpa, flowLph }: Described, units: UnitSystem): string {
  if (pressureKpa === null) return '';
  return `${formatQuantity('pressure', pressureKpa, units)} left at ${formatQuantity('zoneFlow', flowLph, units)}`;
}

/** A little over the limit reads like the limit. */
function isFast(velocityMs: number): boolean {
  return velocityMs > 1.02 * FAST_MS;
}

function fastOf({ velocityMs }: Described, units: UnitSystem): string {
  if (!isFast(velocityMs)) return '';
  return `water at ${formatQuantity('velocity', velocityMs, units)}, over ${formatQuantity('velocity', FAST_MS, units)}`;
}
