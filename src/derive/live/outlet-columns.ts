import type { Point } from '../../base/point.ts';
import type { Ref } from '../../plan/records.ts';
import { OUTLET_STATES, withValue, type OutletValues } from '../outlet-values.ts';
import type { OutletResult, PlacedOutlet } from '../results.ts';

/**
 * What is known of outlets before anything is solved, as columns: cheap to post, a list of objects is not. Outlets that
 * the asker holds already are not in them.
 */
export interface OutletFacts {
  /**
   * The list in stretches, two numbers each: from which place on the next outlets stand in the list that the asker holds,
   * or `NEW` where they are the next ones of these columns; and how many they are.
   */
  readonly stretches: Int32Array;
  /** `FACTS` figures for each new outlet, one outlet after the other. */
  readonly figures: Float64Array;
  /** For each new outlet its owner, run and plant: places in `names`, -1 for no plant. */
  readonly refs: Int32Array;
  /** For each new outlet the bits of `FLAG`. */
  readonly flags: Uint8Array;
  readonly names: readonly string[];
  /** What few outlets have, with the place of each: plants that share it, the emitter at which its feeder starts. */
  readonly rare: readonly (Pick<PlacedOutlet, 'alsoPlantIds' | 'fromEmitterId'> & {
    readonly index: number;
  })[];
}

const NEW = -1;
const NONE: readonly never[] = [];

/** Number, place (3), rated flow, range (2), cv, closing pressure, tap (2), feeder. */
const FACTS = 12;
const FLAG = { ownedByRun: 1, compensating: 2, closes: 4, onRun: 8 } as const;

/** Whether two lists hold the very same outlets in the same order. */
export function sameOutlets(a: readonly PlacedOutlet[], b: readonly PlacedOutlet[]): boolean {
  if (a === b) return true;
  if (a.length !== b.length) return false;
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) return false;
  return true;
}

/**
 * Facts of all outlets, those that stand in `held` already by their places there. Outlets of one run are looked for
 * together: a run of which one has changed is told anew.
 */
export function outletFacts(all: readonly PlacedOutlet[], held: readonly PlacedOutlet[] = NONE): OutletFacts {
  const startOf = new Map<string, number>();
  held.forEach(({ runId }, i) => {
    if (held[i - 1]?.runId !== runId) startOf.set(runId, i);
  });
  const stretches: number[] = [];
  const outlets: PlacedOutlet[] = [];
  for (let start = 0; start < all.length;) {
    const { runId } = all[start]!;
    const from = startOf.get(runId);
    let end = start;
    let isHeld = from !== undefined;
    for (; end < all.length && all[end]!.runId === runId; end++)
      isHeld &&= held[from! + end - start] === all[end];
    if (!isHeld) for (let i = start; i < end; i++) outlets.push(all[i]!);
    addStretch(stretches, isHeld ? from! : NEW, end - start);
    start = end;
  }
  return { stretches: Int32Array.from(stretches), ...columnsOf(outlets) };
}

/** Adds a stretch, or lengthens the last one where it goes on. */
function addStretch(stretches: number[], from: number, count: number): void {
  const lastFrom = stretches.at(-2);
  const lastCount = stretches.at(-1)!;
  const goesOn =
    lastFrom !== undefined &&
    (from === NEW ? lastFrom === NEW : lastFrom !== NEW && lastFrom + lastCount === from);
  if (goesOn) stretches[stretches.length - 1] = lastCount + count;
  else stretches.push(from, count);
}

function columnsOf(outlets: readonly PlacedOutlet[]): Omit<OutletFacts, 'stretches'> {
  const figures = new Float64Array(outlets.length * FACTS);
  const refs = new Int32Array(outlets.length * 3);
  const flags = new Uint8Array(outlets.length);
  const places = new Map<string, number>();
  const rare: OutletFacts['rare'][number][] = [];
  const placeOf = (name: string): number => {
    const known = places.get(name);
    if (known !== undefined) return known;
    places.set(name, places.size);
    return places.size - 1;
  };
  outlets.forEach((outlet, i) => {
    let at = i * FACTS;
    figures[at++] = outlet.number;
    figures[at++] = outlet.at[0];
    figures[at++] = outlet.at[1];
    figures[at++] = outlet.zM;
    figures[at++] = outlet.ratedFlowLph;
    figures[at++] = outlet.minKpa;
    figures[at++] = outlet.maxKpa;
    figures[at++] = outlet.cv;
    figures[at++] = outlet.closingKpa ?? NaN;
    figures[at++] = outlet.tap[0];
    figures[at++] = outlet.tap[1];
    figures[at] = outlet.feederM;
    refs[i * 3] = placeOf(outlet.owner.id);
    refs[i * 3 + 1] = placeOf(outlet.runId);
    refs[i * 3 + 2] = outlet.plantId === null ? -1 : placeOf(outlet.plantId);
    flags[i] =
      (outlet.owner.table === 'runs' ? FLAG.ownedByRun : 0) |
      (outlet.compensating ? FLAG.compensating : 0) |
      (outlet.closingKpa === null ? 0 : FLAG.closes) |
      (outlet.onRun ? FLAG.onRun : 0);
    const { alsoPlantIds, fromEmitterId } = outlet;
    if (alsoPlantIds !== undefined || fromEmitterId !== undefined)
      rare.push({ index: i, alsoPlantIds, fromEmitterId });
  });
  return { figures, refs, flags, names: [...places.keys()], rare };
}

/**
 * The outlets that facts and values were taken from.
 * @param facts null where the outlets are those of `held`
 * @param held the outlets that were made last; those of which nothing has changed are given again
 */
export function outletsFrom(
  facts: OutletFacts | null,
  values: OutletValues,
  held: readonly OutletResult[] = NONE,
): OutletResult[] {
  const outlets = new Array<OutletResult>(values.states.length);
  if (!facts) {
    for (let i = 0; i < outlets.length; i++) outlets[i] = again(held[i]!, values, i);
    return outlets;
  }
  const { stretches } = facts;
  const made = placedFrom(facts);
  let at = 0;
  let next = 0;
  for (let k = 0; k < stretches.length; k += 2) {
    const from = stretches[k]!;
    for (let i = 0; i < stretches[k + 1]!; i++, at++)
      outlets[at] = from === NEW ? withValue(made[next++]!, values, at) : again(held[from + i]!, values, at);
  }
  return outlets;
}

/** An outlet with new values: itself where they are the same. */
function again(outlet: OutletResult, values: OutletValues, index: number): OutletResult {
  return Object.is(outlet.pressureKpa, values.pressureKpa[index]) &&
    Object.is(outlet.flowLph, values.flowLph[index]) &&
    outlet.state === OUTLET_STATES[values.states[index]!]
    ? outlet
    : withValue(outlet, values, index);
}

function placedFrom({ figures, refs, flags, names, rare }: OutletFacts): PlacedOutlet[] {
  const owners: (Ref<'runs' | 'emitters'> | undefined)[][] = [[], []];
  const outlets = new Array<PlacedOutlet>(flags.length);
  for (let i = 0; i < outlets.length; i++) {
    const at = i * FACTS;
    const flag = flags[i]!;
    const ownerName = refs[i * 3]!;
    const plantName = refs[i * 3 + 2]!;
    const place: Point = [figures[at + 1]!, figures[at + 2]!];
    const byTable = owners[flag & FLAG.ownedByRun]!;
    outlets[i] = {
      owner: (byTable[ownerName] ??= {
        table: flag & FLAG.ownedByRun ? 'runs' : 'emitters',
        id: names[ownerName]!,
      }),
      runId: names[refs[i * 3 + 1]!]!,
      number: figures[at]!,
      at: place,
      zM: figures[at + 3]!,
      plantId: plantName < 0 ? null : names[plantName]!,
      ratedFlowLph: figures[at + 4]!,
      minKpa: figures[at + 5]!,
      maxKpa: figures[at + 6]!,
      compensating: (flag & FLAG.compensating) !== 0,
      cv: figures[at + 7]!,
      closingKpa: flag & FLAG.closes ? figures[at + 8]! : null,
      tap: [figures[at + 9]!, figures[at + 10]!],
      feederM: figures[at + 11]!,
      alsoPlantIds: undefined,
      onRun: (flag & FLAG.onRun) !== 0,
      fromEmitterId: undefined,
    };
  }
  for (const { index, alsoPlantIds, fromEmitterId } of rare)
    outlets[index] = { ...outlets[index]!, alsoPlantIds, fromEmitterId };
  return outlets;
}
