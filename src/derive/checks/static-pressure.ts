import { staticOf, FITTING_RATING_KPA, FITTING_SOURCE } from '../scenarios/static-pressures.ts';
import { headToKpa } from '../../hydraulics/index.ts';
import { called } from '../network/notices.ts';
import type { Notice } from '../results.ts';
import { agree, counted, listed, twoFigures } from '../wording.ts';
import type { Check } from './check.ts';

/** Nothing flows when the last outlet of a compensating zone shuts, or with a valve before a closed end: then the
 * regulator creeps and low ground has the most. */
export const staticPressure: Check = ({ plan, planNetwork, units }) => {
  const { headM, outletsOver, runsOver } = staticOf(plan.controls, planNetwork);
  const { network, outlets } = planNetwork;
  const notices: Notice[] = [];
  const worst = outletsOver[0];
  if (worst !== undefined) {
    const node = network.outlets.node[worst]!;
    const kpa = headToKpa(headM[node]! - network.nodes.elevationM[node]! - network.outlets.riseM[worst]!);
    const { maxKpa } = outlets[worst]!;
    const [stands, may] = twoFigures('pressure', kpa, maxKpa, units);
    const runs = [...new Set(outletsOver.map((i) => outlets[i]!.runId))];
    notices.push({
      rule: 'static-pressure-outlets',
      severity: 'warning',
      message: `With no flow ${counted(outletsOver.length, 'outlet')} of ${agree(runs.length, 'run', 'runs')} ${listed(runs.map((id) => called(plan.runs.get(id) ?? { id })))} ${agree(outletsOver.length, 'stands', 'stand')} under up to ${stands}, and may have ${may}: lower the set pressure, or set a regulator of its own for low ground.`,
      refs: runs.map((id) => ({ table: 'runs', id }) as const),
      source:
        'working range of the emitter as in the catalog; creep of the regulator at no flow: common practice',
    });
  }
  if (runsOver.length > 0) {
    const most = runsOver.reduce((a, b) => (b.highestKpa > a.highestKpa ? b : a));
    const [stands, hold] = twoFigures('pressure', most.highestKpa, FITTING_RATING_KPA, units);
    notices.push({
      rule: 'static-pressure-fittings',
      severity: 'warning',
      message: `With no flow the fittings of ${agree(runsOver.length, 'run', 'runs')} ${listed(runsOver.map(({ runId }) => called(plan.runs.get(runId) ?? { id: runId })))} stand under up to ${stands}, and usually hold ${hold}: lower the set pressure, set a regulator of its own for low ground, or use fittings that are rated for it.`,
      refs: runsOver.map(({ runId }) => ({ table: 'runs', id: runId }) as const),
      source: FITTING_SOURCE,
    });
  }
  return notices;
};
