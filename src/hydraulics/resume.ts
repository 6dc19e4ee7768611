import { LINK, type Network, type Solution } from './network.ts';
import { evaluateAgain } from './evaluate.ts';
import { sameButLinks, usableLink } from './examine.ts';
import { STATE, type Workspace } from './workspace.ts';

const SIZES = ['lengthM', 'extraLengthM', 'boreM', 'roughnessM', 'lossK'] as const;

/**
 * Goes on from the equations that stand in a workspace, when it still holds the answer `start` and nothing but sizes
 * of pipes has changed: only these are worked out anew. Undefined when more has changed; nothing is touched then.
 */
export function resume(previous: Workspace, start: Solution, network: Network): Workspace | undefined {
  const { network: before, examined } = previous;
  const { links } = network;
  if (previous.holds.solution !== start || examined.findings.length > 0) return undefined;
  if (!sameButLinks(network, before)) return undefined;
  for (const key of ['from', 'to', 'kind', 'curve', 'settingM'] as const) {
    if (links[key] !== before.links[key]) return undefined;
  }
  const changed = new Set<number>();
  for (const key of SIZES) if (!compare(links[key], before.links[key], changed)) return undefined;
  for (const l of changed) if (links.kind[l] === LINK.pipe && !usableLink(network, l)) return undefined;

  const w = { ...previous, network };
  for (const l of changed) {
    if (w.linkState[l] !== STATE.pipe) continue;
    w.sizes.readOne(links, l);
    evaluateAgain(w, l);
  }
  return w;
}

/** More changes than this share are better worked out from the start. */
const MOST_SHARE = 0.1;

/** Adds the places where the arrays differ; false when there are too many. */
function compare(now: Float64Array, before: Float64Array, changed: Set<number>): boolean {
  if (now === before) return true;
  for (let l = 0; l < now.length; l++) {
    if (Object.is(now[l], before[l])) continue;
    changed.add(l);
    if (changed.size > MOST_SHARE * now.length + 8) return false;
  }
  return true;
}
