import type { ControlSet, Supply } from '../../plan/records.ts';
import { endOf, endTouch, sameTouch, stationsOf, type Stations } from './at-supplies.ts';
import { followWater } from './follow-water.ts';
import type { Line } from './lines.ts';
import { calledAs, type Notices } from './notices.ts';
import { Taps } from './taps.ts';
import { JOINT_TOLERANCE_M, STANDS_ON_M, zonesAgree } from '../../plan/joining.ts';
import { closeAlong, touchIndex, type Touch, type TouchIndex } from './touching.ts';
import { UnionFind } from './union-find.ts';

/** Which parts of a plan meet. */
export interface Connection {
  readonly taps: Taps;
  /** By line: control sets that water passes on its way here; Infinity where no supply reaches. */
  readonly lineLevel: readonly number[];
  /** By control set. */
  readonly fed: readonly boolean[];
  /** By control set: the supply that it stands on, or -1. */
  readonly controlSupply: readonly number[];
}

/** A run and an existing lateral that touch: joined only where the lateral carries regulated water. */
export interface Meeting {
  readonly run: Touch;
  readonly lateral: Touch;
}

/**
 * Joins what is drawn together: an end or a vertex of one line that lies on another (within 10 mm), lateral ends of
 * one name or, where they join nothing else, within half a foot of another lateral, and what touches supplies and
 * control sets. Lines that merely cross do not join.
 */
export function connect(
  lines: readonly Line[],
  supplies: readonly Supply[],
  controls: readonly ControlSet[],
  notices: Notices,
): Connection {
  const index = touchIndex(lines);
  const stations = stationsOf(lines, supplies, controls, index, notices);
  const taps = new Taps(supplies.length, controls.length, lines);
  // Supplies first, then lines: whole pieces that water can pass between without a control set.
  const groups = new UnionFind(supplies.length + lines.length);
  const groupOf = (line: number): number => supplies.length + line;

  for (const { supply, touch } of stations.bare) {
    taps.sets.join(taps.supply(supply), taps.at(touch));
    groups.join(supply, groupOf(touch.line));
  }
  const join = (a: Touch, b: Touch): void => {
    taps.sets.join(taps.at(a), taps.at(b));
    groups.join(groupOf(a.line), groupOf(b.line));
  };
  joinLaterals(lines, index, stations, join);
  const meetings = joinRuns(lines, index, stations, join);

  const water = followWater(
    groups,
    supplies.length,
    meetings.map(({ run, lateral }) => ({ run: groupOf(run.line), lateral: groupOf(lateral.line) })),
    controls.map((_, c) => ({
      supply: stations.controlSupply[c]!,
      touches: stations.controlTouches[c]!.map(({ line }) => ({
        group: groupOf(line),
        isRun: lines[line]!.isRun,
      })),
    })),
  );
  controls.forEach((control, c) => {
    const inlet = taps.inlet(c);
    const outlet = taps.outlet(c);
    const { fed, onInlet } = water.controls[c]!;
    if (stations.controlSupply[c]! >= 0) taps.sets.join(inlet, taps.supply(stations.controlSupply[c]!));
    stations.controlTouches[c]!.forEach((touch, k) => {
      taps.sets.join(onInlet[k] ? inlet : outlet, taps.at(touch));
    });
    tellControl(control, fed, onInlet, notices);
  });
  const lineLevel = lines.map((_, line) => water.level(groupOf(line)));
  const reached = (touch: Touch): number => lineLevel[touch.line]!;
  for (const { run, lateral } of meetings) {
    const regulated = reached(lateral) >= 1 && reached(lateral) < Infinity;
    if (regulated) taps.sets.join(taps.at(run), taps.at(lateral));
    else if (reached(run) === Infinity) tellNoControl(lines, run, lateral, notices);
  }
  return {
    taps,
    lineLevel,
    fed: water.controls.map(({ fed }) => fed),
    controlSupply: stations.controlSupply,
  };
}

function joinLaterals(
  lines: readonly Line[],
  index: TouchIndex,
  { endSupply }: Stations,
  join: (a: Touch, b: Touch) => void,
): void {
  const byName = new Map<string, { touch: Touch; supply: number }>();
  const named = new Map<string, number>();
  const nameOf = (line: Line, end: 0 | 1): string => JSON.stringify([line.zone, line.endNames[end]]);
  for (const line of lines) {
    for (const end of [0, 1] as const) {
      if (!line.isRun) named.set(nameOf(line, end), (named.get(nameOf(line, end)) ?? 0) + 1);
    }
  }
  lines.forEach((line, i) => {
    if (line.isRun) return;
    for (const end of [0, 1] as const) {
      const own = endTouch(line, i, end);
      const supply = endSupply[i]![end];
      const isNamed = line.endNames[end] !== '' && named.get(nameOf(line, end))! > 1;
      const isOther = (touch: Touch): boolean =>
        touch.line !== i && !lines[touch.line]!.isRun && zonesAgree(line.zone, lines[touch.line]!.zone);
      let touches = index.near(line.points[end]!).filter(isOther);
      // Old pipe is surveyed by eye: an end that joins nothing belongs to the nearest pipe within half a foot.
      if (touches.length === 0 && supply < 0 && !isNamed) {
        const near = index.near(line.points[end]!, STANDS_ON_M).filter(isOther);
        touches = near.sort((a, b) => a.away - b.away).slice(0, 1);
      }
      for (const touch of touches) {
        const other = lines[touch.line]!;
        const otherEnd = endOf(other, touch);
        const otherSupply = otherEnd === null ? -1 : endSupply[touch.line]![otherEnd];
        if (supply >= 0 && otherSupply >= 0 && supply !== otherSupply) continue;
        join(own, touch);
      }
      if (line.endNames[end] === '') continue;
      const key = nameOf(line, end);
      const known = byName.get(key);
      if (!known) byName.set(key, { touch: own, supply });
      else if (known.supply === supply || known.supply < 0 || supply < 0) join(known.touch, own);
    }
  });
}

/** Joins runs to each other, and gives the places where runs and laterals touch. */
function joinRuns(
  lines: readonly Line[],
  index: TouchIndex,
  { controlTouches }: Stations,
  join: (a: Touch, b: Touch) => void,
): Meeting[] {
  const meetings: Meeting[] = [];
  const joints: { readonly own: Touch; readonly touch: Touch }[] = [];
  /** A run's end on a lateral's end is seen from both. */
  const meet = (meeting: Meeting): void => {
    const known = meetings.some(
      ({ run, lateral }) => sameTouch(run, meeting.run) && sameTouch(lateral, meeting.lateral),
    );
    if (!known) meetings.push(meeting);
  };
  const controlsOf = new Map<number, { control: number; along: number }[]>();
  controlTouches.forEach((touches, control) => {
    for (const { line, along } of touches) {
      const list = controlsOf.get(line);
      if (list) list.push({ control, along });
      else controlsOf.set(line, [{ control, along }]);
    }
  });
  const standsAt = (touch: Touch): number[] =>
    (controlsOf.get(touch.line) ?? [])
      .filter(({ along }) => Math.abs(along - touch.along) <= 2.5 * JOINT_TOLERANCE_M)
      .map(({ control }) => control);
  /** Two parts at one control set meet through it, never past it. */
  const shareControl = (a: Touch, b: Touch): boolean => {
    const atA = standsAt(a);
    return atA.length > 0 && standsAt(b).some((control) => atA.includes(control));
  };

  lines.forEach((line, i) => {
    line.points.forEach((_, vertex) => {
      const isEnd = vertex === 0 || vertex === line.points.length - 1;
      const own: Touch = { line: i, along: line.vertexAlong[vertex]!, vertex, away: 0 };
      for (const touch of index.nearVertex(i, vertex)) {
        const other = lines[touch.line]!;
        if (!line.isRun && !other.isRun) continue;
        if (touch.line === i && (!isEnd || Math.abs(touch.along - own.along) <= 4 * JOINT_TOLERANCE_M))
          continue;
        if (shareControl(own, touch)) continue;
        if (line.isRun && other.isRun) joints.push({ own, touch });
        else meet(line.isRun ? { run: own, lateral: touch } : { run: touch, lateral: own });
      }
    });
  });
  joinNearest(joints, lines.length, join);
  return meetings;
}

/**
 * Joins pairs of places, the nearest first; a pair beside one that two lines already share is passed over, or the
 * short piece between the two would be lost.
 */
function joinNearest(
  joints: { readonly own: Touch; readonly touch: Touch }[],
  lineCount: number,
  join: (a: Touch, b: Touch) => void,
): void {
  const joined = new Map<number, { readonly a: Touch; readonly b: Touch }[]>();
  joints.sort((a, b) => a.touch.away - b.touch.away);
  for (const { own, touch } of joints) {
    const [a, b] = own.line <= touch.line ? [own, touch] : [touch, own];
    const key = a.line * lineCount + b.line;
    const known = joined.get(key);
    if (known?.some((other) => closeAlong(other.a, a) && closeAlong(other.b, b))) continue;
    if (known) known.push({ a, b });
    else joined.set(key, [{ a, b }]);
    join(own, touch);
  }
}

function tellControl(control: ControlSet, fed: boolean, onInlet: readonly boolean[], notices: Notices): void {
  const ref = { table: 'controls', id: control.id } as const;
  if (!fed) {
    notices.add(
      'control-not-fed',
      'error',
      `${calledAs('Control set', control)} is not connected to a supply: place it on the supply, or on an existing pipe that begins at one.`,
      ref,
    );
  } else if (!onInlet.includes(false)) {
    notices.add(
      'control-without-outlet',
      'info',
      `Nothing is joined to the outlet of ${calledAs('control set', control)}: begin a run at it.`,
      ref,
    );
  }
}

function tellNoControl(lines: readonly Line[], run: Touch, lateral: Touch, notices: Notices): void {
  notices.add(
    'run-on-lateral',
    'warning',
    `Run ${lines[run.line]!.name} touches the existing pipe ${lines[lateral.line]!.name}, but no control set stands there: drip needs a filter and a regulator between. Set one at this place.`,
    lines[run.line]!.owner,
    lines[lateral.line]!.owner,
  );
}
