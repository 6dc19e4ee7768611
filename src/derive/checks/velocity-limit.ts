import { formatQuantity } from '../../base/quantity.ts';
import { called } from '../network/notices.ts';
import type { Notice } from '../results.ts';
import { counted, isAbove, twoFigures } from '../wording.ts';
import type { Check } from './check.ts';

/** Fastest flow in plastic pipe, m/s (5 ft/s). */
export const VELOCITY_LIMIT_MS = 1.524;
// From memory, to be checked.
const source = 'NRCS conservation practice standards 430 and 441';

/** Fast water wears on fittings and hammers when a valve shuts. Runs and existing laterals are held to one limit. */
export const velocityLimit: Check = ({ plan, planNetwork, results, units }) => {
  const limit = formatQuantity('velocity', VELOCITY_LIMIT_MS, units);
  const notices: Notice[] = [];
  for (const { runId, maxVelocityMs } of results.runs.values()) {
    const run = plan.runs.get(runId);
    if (!run || !isAbove(maxVelocityMs, VELOCITY_LIMIT_MS)) continue;
    const [fastest, most] = twoFigures('velocity', maxVelocityMs, VELOCITY_LIMIT_MS, units);
    notices.push({
      rule: 'velocity-high',
      severity: 'warning',
      message: `Water in run ${called(run)} moves at up to ${fastest}, faster than ${most}: use wider tubing, or divide the zone.`,
      refs: [{ table: 'runs', id: runId }],
      source,
    });
  }
  const { network, pieces } = planNetwork;
  const fast = new Set<string>();
  pieces.forEach(({ owner }, link) => {
    if (owner.table !== 'laterals') return;
    const area = (Math.PI / 4) * network.links.boreM[link]! ** 2;
    if (isAbove(Math.abs(results.solution.flowM3s[link]!) / area, VELOCITY_LIMIT_MS)) fast.add(owner.id);
  });
  if (fast.size > 0) {
    notices.push({
      rule: 'velocity-high',
      severity: 'warning',
      message: `Water in ${counted(fast.size, 'existing lateral pipe')} moves faster than ${limit}: divide the zone, or feed it by a wider pipe.`,
      refs: [...fast].map((id) => ({ table: 'laterals', id }) as const),
      source,
    });
  }
  return notices;
};
