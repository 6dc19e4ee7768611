import { LINK, type Network, type Solution } from './network.ts';
import { evaluate, evaluateAgain } from './evaluate.ts';
import { sameButLinks, usablePipe } from './examine.ts';
import { changeOne } from './factor.ts';
import { STATE, type Workspace } from './workspace.ts';

const SIZES = ['lengthM', 'extraLengthM', 'boreM', 'roughnessM', 'lossK'] as const;

/**
 * Goes on from the equations that stand in a workspace, when it still holds the answer `start` and nothing but sizes
 * of pipes has changed. With one changed pipe even the elimination serves again. False when more has changed; nothing
 * is touched then.
 */
export function resume(w: Workspace, start: Solution, network: Network): boolean {
  const { network: before, examined, holds } = w;
  const { links } = network;
  if (holds.solution !== start || examined.findings.length > 0) return false;
  if (!sameButLinks(network, before)) return false;
  for (const key of ['from', 'to', 'kind', 'curve', 'settingM'] as const) {
    if (links[key] !== before.links[key]) return false;
  }
  if (links.hazenWilliamsC !== before.links.hazenWilliamsC) return false;
  const changed = new Set<number>();
  for (const key of SIZES) if (!compare(links[key], before.links[key], changed)) return false;
  for (const l of changed) if (links.kind[l] === LINK.pipe && !usablePipe(links, l)) return false;

  w.network = network;
  const pipes: number[] = [];
  for (const l of changed) {
    const p = w.linkPosition[l]!;
    if (p < 0 || links.kind[l] !== LINK.pipe) continue;
    w.sizes.readOne(links, l, p);
    pipes.push(p);
  }
  if (pipes.length > 1 || !w.holds.eliminated || !changedOne(w, pipes)) evaluate(w, false);
  else w.holds.eliminated = pipes.length === 0;
  return true;
}

/** Brings the equations up to date for one pipe, or none; false when they have to be set up again. */
function changedOne(w: Workspace, pipes: readonly number[]): boolean {
  const p = pipes[0];
  if (p === undefined) return true;
  const { ordering, owner } = w;
  const k = owner[p]!;
  if (k >= ordering.free || w.valves.some((v) => w.linkState[v] === STATE.holding)) return false;
  const { more, push } = evaluateAgain(w, p);
  return changeOne(w, k, ordering.linkSlot[p]!, more, push, w.rightSide);
}

/** More changes than this share are better worked out from the start. */
const MOST_SHARE = 0.1;

/** Adds the places where the arrays differ; false when there are too many. */
function compare(now: Float64Array, before: Float64Array, changed: Set<number>): boolean {
  if (now === before) return true;
  const most = MOST_SHARE * now.length + 8;
  for (let l = 0; l < now.length; l++) {
    const value = now[l]!;
    const old = before[l]!;
    // NaN differs from itself, and stays unchanged all the same.
    if (value === old || (value !== value && old !== old)) continue;
    changed.add(l);
    if (changed.size > most) return false;
  }
  return true;
}
