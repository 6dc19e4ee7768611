import type { Notice } from '../results.ts';
import { called } from '../network/notices.ts';
import type { Check, Rule } from './check.ts';

/** A check valve that points against the water shuts off what lies behind it. */
export const checkValveDirection: Check = ({ plan, planNetwork, results }) => {
  const { network, parts } = planNetwork;
  const { headM } = results.solution;
  return parts.checkValves
    .filter(
      ({ link }) =>
        Number.isNaN(headM[network.links.from[link]!]!) && !Number.isNaN(headM[network.links.to[link]!]!),
    )
    .map(({ id, runId }): Notice => ({
      rule: 'check-valve-backwards',
      severity: 'error',
      message: `The check valve on run ${called(plan.runs.get(runId) ?? { id: runId })} points against the water, so nothing passes it: it lets water pass in the direction in which the run was drawn. Draw the run from its supply on, or move the valve.`,
      refs: [
        { table: 'checkValves', id },
        { table: 'runs', id: runId },
      ],
    }));
};

export const checkValveDirectionRule: Rule = {
  number: null,
  title: 'Check valves that point with the water',
  says: ['check-valve-backwards'],
  severity: 'error',
  limits: [],
  source: 'common practice',
  check: checkValveDirection,
};
