/** A measured difference of height between two places, given by number. */
export interface Link {
  readonly id: string;
  readonly from: number;
  readonly to: number;
  /** `from` lies higher than `to` by this, metres. */
  readonly dropM: number;
  readonly lengthM: number;
}

/** Places that hang together by links. */
export interface Group {
  readonly nodes: readonly number[];
  readonly links: readonly Link[];
}

/** A ring of links, or a chain between two given heights, that does not come out. */
export interface Closure {
  readonly links: readonly string[];
  readonly betweenGiven: boolean;
  /** Metres, above zero. */
  readonly misclosureM: number;
}

/** A misclosure smaller than this is rounding, metres. */
const ROUNDING_M = 1e-9;

/** Links by what hangs together, in the order of their first links. */
export function groupsOf(links: readonly Link[]): Group[] {
  const at = linksAt(links);
  const seen = new Set<number>();
  const groups: Group[] = [];
  for (const { from } of links) {
    if (seen.has(from)) continue;
    seen.add(from);
    const nodes = [from];
    const own = new Set<Link>();
    for (const node of nodes) {
      for (const link of at.get(node)!) {
        own.add(link);
        const other = link.from === node ? link.to : link.from;
        if (!seen.has(other)) {
          seen.add(other);
          nodes.push(other);
        }
      }
    }
    groups.push({ nodes, links: links.filter((link) => own.has(link)) });
  }
  return groups;
}

function linksAt(links: readonly Link[]): Map<number, Link[]> {
  const at = new Map<number, Link[]>();
  for (const link of links) {
    for (const node of [link.from, link.to]) {
      const list = at.get(node);
      if (list) list.push(link);
      else at.set(node, [link]);
    }
  }
  return at;
}

/**
 * Heights of the places of a group from those that are given, at least one, which stay as they are. Where links
 * contradict each other the differences are shared out by least squares with weights that fall with the length.
 */
export function heightsOf(
  { nodes, links }: Group,
  given: ReadonlyMap<number, number>,
): { readonly zM: ReadonlyMap<number, number>; readonly closures: readonly Closure[] } {
  const at = linksAt(links);
  const zM = new Map(given);
  const way = new Map<number, { link: Link; before: number; depth: number }>();
  const depth = (node: number) => way.get(node)?.depth ?? 0;
  const queue = nodes.filter((node) => given.has(node));
  const onTree = new Set<Link>();
  for (const node of queue) {
    for (const link of at.get(node) ?? []) {
      const down = link.from === node;
      const other = down ? link.to : link.from;
      if (zM.has(other)) continue;
      zM.set(other, zM.get(node)! + (down ? -link.dropM : link.dropM));
      way.set(other, { link, before: node, depth: depth(node) + 1 });
      onTree.add(link);
      queue.push(other);
    }
  }
  const closures: Closure[] = [];
  for (const link of links) {
    if (onTree.has(link)) continue;
    const misclosureM = Math.abs(zM.get(link.from)! - zM.get(link.to)! - link.dropM);
    if (misclosureM <= ROUNDING_M) continue;
    const round = [link.id];
    let [a, b] = [link.from, link.to];
    while (a !== b && (way.has(a) || way.has(b))) {
      const step = depth(a) >= depth(b) ? way.get(a)! : way.get(b)!;
      if (depth(a) >= depth(b)) a = step.before;
      else b = step.before;
      round.push(step.link.id);
    }
    closures.push({ links: round.sort(), betweenGiven: a !== b, misclosureM });
  }
  if (closures.length > 0) balance(links, given, zM);
  return { zM, closures };
}

/** Least squares on the heights that are not given, by conjugate gradients with the diagonal as preconditioner. */
function balance(links: readonly Link[], given: ReadonlyMap<number, number>, zM: Map<number, number>): void {
  const free = [...zM.keys()].filter((node) => !given.has(node));
  if (free.length === 0) return;
  const row = new Map(free.map((node, i) => [node, i]));
  const rows = links.map(({ from, to, dropM, lengthM }) => ({
    from: row.get(from) ?? -1,
    to: row.get(to) ?? -1,
    weight: 1 / lengthM,
    missing: dropM - (zM.get(from)! - zM.get(to)!),
  }));
  const times = (x: Float64Array): Float64Array => {
    const y = new Float64Array(free.length);
    for (const { from, to, weight } of rows) {
      const difference = weight * ((from < 0 ? 0 : x[from]!) - (to < 0 ? 0 : x[to]!));
      if (from >= 0) y[from]! += difference;
      if (to >= 0) y[to]! -= difference;
    }
    return y;
  };
  const diagonal = new Float64Array(free.length);
  const rest = new Float64Array(free.length);
  for (const { from, to, weight, missing } of rows) {
    for (const [node, sign] of [
      [from, 1],
      [to, -1],
    ] as const) {
      if (node < 0) continue;
      diagonal[node]! += weight;
      rest[node]! += sign * weight * missing;
    }
  }
  const dot = (a: Float64Array, b: Float64Array) => a.reduce((sum, value, i) => sum + value * b[i]!, 0);
  const x = new Float64Array(free.length);
  let z = rest.map((value, i) => value / diagonal[i]!);
  let p = z.slice();
  let rz = dot(rest, z);
  const small = rz * 1e-26;
  for (let step = 0; step < 4 * free.length + 20 && rz > small && rz > 0; step++) {
    const ap = times(p);
    const alpha = rz / dot(p, ap);
    for (let i = 0; i < x.length; i++) {
      x[i]! += alpha * p[i]!;
      rest[i]! -= alpha * ap[i]!;
    }
    z = rest.map((value, i) => value / diagonal[i]!);
    const next = dot(rest, z);
    p = z.map((value, i) => value + (next / rz) * p[i]!);
    rz = next;
  }
  free.forEach((node, i) => zM.set(node, zM.get(node)! + x[i]!));
}
