import { formatQuantity } from '../../base/quantity.ts';
import { called } from '../network/notices.ts';
import type { Notice } from '../results.ts';
import { agree, counted, isAbove, listed, twoFigures } from '../wording.ts';
import type { Check, Limit, Rule } from './check.ts';

/** Fastest flow in plastic pipe, m/s (5 ft/s). */
export const VELOCITY_LIMIT_MS = 1.524;
// From memory, to be checked.
const source = 'NRCS conservation practice standards 430 and 441';

const FASTEST: Limit = {
  key: 'velocity-high.most',
  label: 'Velocity in pipe and tubing',
  kind: 'velocity',
  usual: VELOCITY_LIMIT_MS,
  least: 0.1,
  most: 10,
  source,
};

/** Fast water wears on fittings and hammers when a valve shuts. Runs and existing laterals are held to one limit. */
export const velocityLimit: Check = ({ plan, planNetwork, results, units, limit }) => {
  const limitMs = limit(FASTEST);
  const notices: Notice[] = [];
  const fastRuns = [...results.runs.values()].flatMap(({ runId, maxVelocityMs }) => {
    const run = plan.runs.get(runId);
    return run && isAbove(maxVelocityMs, limitMs) ? [{ run, maxVelocityMs }] : [];
  });
  if (fastRuns.length > 0) {
    const fastestMs = fastRuns.reduce((most, { maxVelocityMs }) => Math.max(most, maxVelocityMs), 0);
    const [fastest, most] = twoFigures('velocity', fastestMs, limitMs, units);
    notices.push({
      rule: 'velocity-high',
      severity: 'warning',
      message: `Water in ${agree(fastRuns.length, 'run', 'runs')} ${listed(fastRuns.map(({ run }) => called(run)))} moves at up to ${fastest}, faster than ${most}: use wider tubing, or divide the zone.`,
      refs: fastRuns.map(({ run: { id } }) => ({ table: 'runs', id }) as const),
      source,
    });
  }
  const { network, pieces } = planNetwork;
  const fast = new Set<string>();
  pieces.forEach(({ owner }, link) => {
    if (owner.table !== 'laterals') return;
    const area = (Math.PI / 4) * network.links.boreM[link]! ** 2;
    if (isAbove(Math.abs(results.solution.flowM3s[link]!) / area, limitMs)) fast.add(owner.id);
  });
  if (fast.size > 0) {
    notices.push({
      rule: 'velocity-high',
      severity: 'warning',
      message: `Water in ${counted(fast.size, 'existing lateral pipe')} moves faster than ${formatQuantity('velocity', limitMs, units)}: divide the zone, or feed it by a wider pipe.`,
      refs: [...fast].map((id) => ({ table: 'laterals', id }) as const),
      source,
    });
  }
  return notices;
};

export const velocityRule: Rule = {
  number: 15,
  title: 'Velocity of the water',
  says: ['velocity-high'],
  severity: 'warning',
  limits: [FASTEST],
  source,
  check: velocityLimit,
};
