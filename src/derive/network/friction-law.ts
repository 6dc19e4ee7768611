import { hazenWilliamsC } from '../../catalog/index.ts';
import type { PlanNetwork } from '../results.ts';

/** The law by which pipes lose head; Hazen and Williams hold in turbulent flow and not in small tube. */
export type FrictionLaw = 'darcy-weisbach' | 'hazen-williams';
export const FRICTION_LAWS: readonly FrictionLaw[] = ['darcy-weisbach', 'hazen-williams'];

const known = new WeakMap<PlanNetwork, PlanNetwork>();

/** The same network under a law of friction; the same object for the same network, so that answers are found again. */
export function underLaw<N extends PlanNetwork>(planNetwork: N, law: FrictionLaw): N {
  if (law === 'darcy-weisbach') return planNetwork;
  const before = known.get(planNetwork);
  if (before) return before as N;
  const { network } = planNetwork;
  const links = {
    ...network.links,
    hazenWilliamsC: network.links.boreM.map((boreM) => hazenWilliamsC(boreM * 1000)),
  };
  const next: N = { ...planNetwork, network: { ...network, links } };
  known.set(planNetwork, next);
  return next;
}
