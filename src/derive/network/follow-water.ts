import type { UnionFind } from './union-find.ts';

/** A control set with the groups of lines that touch it. */
export interface Gate {
  /** Group of the supply that it stands on, or -1. */
  readonly supply: number;
  readonly touches: readonly { readonly group: number; readonly isRun: boolean }[];
}

export interface FollowedGate {
  readonly fed: boolean;
  /** By touch: true on the inlet, false on the outlet. */
  readonly onInlet: readonly boolean[];
}

export interface FollowedWater {
  /** Control sets passed on the way to a group; Infinity where no supply reaches. */
  level(group: number): number;
  readonly controls: readonly FollowedGate[];
}

/**
 * Follows water from the supplies (groups 0 to `supplyCount` - 1), first without any control set, then past one, and
 * so on. What is reached before a control set opens is on its inlet, the rest on its outlet. A run passes water to a
 * lateral, or takes it from one, only past at least one control set.
 */
export function followWater(
  groups: UnionFind,
  supplyCount: number,
  meetings: readonly { readonly run: number; readonly lateral: number }[],
  gates: readonly Gate[],
): FollowedWater {
  const levels = new Map<number, number>();
  const level = (group: number): number => levels.get(groups.root(group)) ?? Infinity;
  const across = new Map<number, number[]>();
  const link = (from: number, to: number): void => {
    const list = across.get(from);
    if (list) list.push(to);
    else across.set(from, [to]);
  };
  for (const { run, lateral } of meetings) {
    link(groups.root(run), groups.root(lateral));
    link(groups.root(lateral), groups.root(run));
  }
  const followed: (FollowedGate | null)[] = gates.map(() => null);

  let front = Array.from({ length: supplyCount }, (_, s) => groups.root(s));
  for (let depth = 0; front.length > 0; depth++) {
    while (front.length > 0) {
      const group = front.pop()!;
      if (levels.has(group)) continue;
      levels.set(group, depth);
      if (depth > 0) front.push(...(across.get(group) ?? []));
    }
    const next: number[] = [];
    gates.forEach(({ supply, touches }, g) => {
      if (followed[g]) return;
      const onInlet = touches.map(({ group }) => level(group) <= depth);
      if (!onInlet.includes(true) && !(supply >= 0 && level(supply) <= depth)) return;
      followed[g] = { fed: true, onInlet };
      touches.forEach(({ group }, k) => {
        if (!onInlet[k]) next.push(groups.root(group));
      });
    });
    front = next;
  }
  const controls = gates.map(
    ({ touches }, g) => followed[g] ?? { fed: false, onInlet: touches.map(({ isRun }) => !isRun) },
  );
  return { level, controls };
}
