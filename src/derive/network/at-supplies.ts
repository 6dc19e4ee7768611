import { distance, type Point } from '../../base/point.ts';
import type { ControlSet, Supply } from '../../plan/records.ts';
import type { Line } from './lines.ts';
import { called, calledAs, type Notices } from './notices.ts';
import { JOINT_TOLERANCE_M, zonesAgree } from '../../plan/joining.ts';
import type { Touch, TouchIndex } from './touching.ts';

/** What stands at the supplies and control sets before any tubing is followed. */
export interface Stations {
  /** By control set: the supply that it stands on, or -1. */
  readonly controlSupply: readonly number[];
  /** By control set: places on lines that it touches. */
  readonly controlTouches: readonly Touch[][];
  /** Supplies joined to lines without a control set. */
  readonly bare: readonly { readonly supply: number; readonly touch: Touch }[];
  /** By line: the supply that serves its first and its last point, or -1. */
  readonly endSupply: readonly (readonly [number, number])[];
}

/** Made once: each comparison by `localeCompare` would look it up anew. */
const BY_NUMBER = new Intl.Collator('en', { numeric: true });

export function compareIds(a: { readonly id: string }, b: { readonly id: string }): number {
  return BY_NUMBER.compare(a.id, b.id) || (a.id < b.id ? -1 : a.id > b.id ? 1 : 0);
}

/**
 * Finds what stands at each supply and control set. Where several valves stand in one place (a manifold) a lateral
 * goes to the valve that it names, else to that of its zone, else to the first by id.
 */
export function stationsOf(
  lines: readonly Line[],
  supplies: readonly Supply[],
  controls: readonly ControlSet[],
  index: TouchIndex,
  notices: Notices,
): Stations {
  const controlSupply = supplyUnderControls(supplies, controls, notices);
  const controlOn = supplies.map((_, s) => controlSupply.indexOf(s));
  const controlTouches = controls.map((): Touch[] => []);
  const bare: { supply: number; touch: Touch }[] = [];
  const endSupply = lines.map((line): [number, number] =>
    line.isRun ? [-1, -1] : [servingEnd(line, 0), servingEnd(line, 1)],
  );

  function servingEnd(line: Line, end: 0 | 1): number {
    const name = line.endNames[end];
    const named = supplies.findIndex(
      (supply) =>
        name !== '' && (supply.id === name || supply.name === name) && zonesAgree(supply.zone, line.zone),
    );
    return named >= 0 ? named : servingPlace(line.points[end]!, line.zone);
  }
  function servingPlace(p: Point, zone: string | null): number {
    const near = suppliesAt(supplies, p).filter((s) => zonesAgree(supplies[s]!.zone, zone));
    return near.find((s) => zone !== null && supplies[s]!.zone === zone) ?? near[0] ?? -1;
  }
  function attach(supply: number, touch: Touch): void {
    const control = controlOn[supply]!;
    if (control >= 0) addTouch(controlTouches[control]!, touch);
    else if (!bare.some((known) => known.supply === supply && sameTouch(known.touch, touch))) {
      bare.push({ supply, touch });
    }
  }

  supplies.forEach((supply, s) => {
    for (const touch of index.near(supply.at)) {
      const line = lines[touch.line]!;
      const end = endOf(line, touch);
      const serving =
        !line.isRun && end !== null ? endSupply[touch.line]![end] : servingPlace(supply.at, line.zone);
      if (serving === s) attach(s, touch);
    }
  });
  lines.forEach((line, i) => {
    for (const end of [0, 1] as const) {
      const serving = endSupply[i]![end];
      if (serving >= 0) attach(serving, endTouch(line, i, end));
    }
  });
  controls.forEach((control, c) => {
    const touches = index.near(control.at).filter((touch) => {
      const end = endOf(lines[touch.line]!, touch);
      const serving = end === null ? -1 : endSupply[touch.line]![end];
      return serving < 0 || serving === controlSupply[c] || controlSupply[c] === -1;
    });
    const kept = controlSupply[c] === -1 ? oneZone(touches, lines, control, notices) : touches;
    for (const touch of kept) addTouch(controlTouches[c]!, touch);
  });
  return { controlSupply, controlTouches, bare, endSupply };
}

/** Which end of a line a touch is at, if any. */
export function endOf(line: Line, touch: Touch): 0 | 1 | null {
  return touch.vertex === 0 ? 0 : touch.vertex === line.points.length - 1 ? 1 : null;
}

export function endTouch(line: Line, index: number, end: 0 | 1): Touch {
  const vertex = end === 0 ? 0 : line.points.length - 1;
  return { line: index, along: line.vertexAlong[vertex]!, vertex, away: 0 };
}

function suppliesAt(supplies: readonly Supply[], p: Point): number[] {
  const found: number[] = [];
  for (let s = 0; s < supplies.length; s++)
    if (distance(supplies[s]!.at, p) <= JOINT_TOLERANCE_M) found.push(s);
  return found.sort((a, b) => compareIds(supplies[a]!, supplies[b]!));
}

/** Control sets in the order of their ids each take the first free supply of those that they stand on. */
function supplyUnderControls(
  supplies: readonly Supply[],
  controls: readonly ControlSet[],
  notices: Notices,
): number[] {
  const taken = new Set<number>();
  const chosen = controls.map(() => -1);
  const order = controls
    .map((control, c) => ({ control, c }))
    .sort((a, b) => compareIds(a.control, b.control));
  for (const { control, c } of order) {
    const free = suppliesAt(supplies, control.at).filter((s) => !taken.has(s));
    const first = free[0];
    if (first === undefined) continue;
    taken.add(first);
    chosen[c] = first;
    if (free.length > 1) {
      notices.add(
        'control-on-several-supplies',
        'warning',
        `${calledAs('Control set', control)} stands on ${free.length} supplies; it is taken to belong to ${called(supplies[first]!)}. Move it a little along that valve's pipe, or move the other supplies.`,
        { table: 'controls', id: control.id },
        ...free.map((s) => ({ table: 'supplies', id: supplies[s]!.id }) as const),
      );
    }
  }
  return chosen;
}

/** A control set tied in where laterals of several zones lie together belongs to one of them only. */
function oneZone(
  touches: readonly Touch[],
  lines: readonly Line[],
  control: ControlSet,
  notices: Notices,
): readonly Touch[] {
  const zoneOf = (touch: Touch): string | null => lines[touch.line]!.zone;
  const zones = [...new Set(touches.map(zoneOf).filter((zone) => zone !== null))].sort((a, b) =>
    compareIds({ id: a }, { id: b }),
  );
  if (zones.length < 2) return touches;
  const ending = zones.filter((zone) =>
    touches.some((touch) => zoneOf(touch) === zone && endOf(lines[touch.line]!, touch) !== null),
  );
  const zone = ending[0] ?? zones[0]!;
  notices.add(
    'control-on-several-zones',
    'warning',
    `${calledAs('Control set', control)} touches existing pipes of the zones ${zones.join(', ')}; it is taken to be fed by zone ${zone}. Move it to a place where only its own pipe lies.`,
    { table: 'controls', id: control.id },
  );
  return touches.filter((touch) => zonesAgree(zoneOf(touch), zone));
}

function addTouch(list: Touch[], touch: Touch): void {
  if (!list.some((known) => sameTouch(known, touch))) list.push(touch);
}

/** Whether two touches are one place of a line. */
export function sameTouch(a: Touch, b: Touch): boolean {
  return a.line === b.line && Math.abs(a.along - b.along) <= JOINT_TOLERANCE_M;
}
