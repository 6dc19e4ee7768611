import { PSI_KPA } from '../../base/units.ts';
import { headToKpa } from '../../hydraulics/index.ts';
import { called } from '../network/notices.ts';
import type { Notice, PlacedControl } from '../results.ts';
import { FITTING_RATING_KPA, FITTING_SOURCE, staticOf } from '../scenarios/static-pressures.ts';
import { agree, counted, isAbove, listed, twoFigures } from '../wording.ts';
import type { Check, CheckInput, Limit, Rule } from './check.ts';
import { creepShareOf } from '../scenarios/network-for.ts';
import { fedBy } from './fed-by.ts';
import { highPressures } from './outlet-pressures.ts';
import { lowerSetting } from './settings.ts';

const held = { kind: 'pressure', least: 10 * PSI_KPA, most: 200 * PSI_KPA } as const;
const FITTINGS: Limit = {
  ...held,
  key: 'fitting-pressure.most',
  label: 'Pressure on fittings',
  usual: FITTING_RATING_KPA,
  source: FITTING_SOURCE,
};
const BARBS: Limit = {
  ...held,
  key: 'fitting-pressure.barb',
  label: 'Pressure on barbs without clamps',
  usual: 35 * PSI_KPA,
  source: 'common practice: 35 psi for barbed fittings without clamps',
};

/** What the fittings of this plan hold, by the way of building that is chosen for it. */
function fittingLimit({ plan }: Pick<CheckInput, 'plan'>): Limit {
  return plan.practice.fittings === 'barb' ? BARBS : FITTINGS;
}

/** Nothing flows when the last outlet of a compensating zone shuts, or with a valve before a closed end: then the
 * regulator creeps and low ground has the most. */
export const staticPressure: Check = (input) => {
  const { plan, planNetwork, units } = input;
  const { headM, outletsOver, runs } = staticOf(plan.controls, planNetwork);
  const { network, outlets, parts } = planNetwork;
  const { controlOfOutlet } = fedBy(planNetwork);
  const notices: Notice[] = [];
  const worst = outletsOver[0];
  if (worst !== undefined) {
    const node = network.outlets.node[worst]!;
    const kpa = headToKpa(headM[node]! - network.nodes.elevationM[node]! - network.outlets.riseM[worst]!);
    const { maxKpa } = outlets[worst]!;
    const [stands, may] = twoFigures('pressure', kpa, maxKpa, units);
    const ids = [...new Set(outletsOver.map((i) => outlets[i]!.runId))];
    notices.push({
      rule: 'static-pressure-outlets',
      severity: 'error',
      message: `With no flow ${counted(outletsOver.length, 'outlet')} of ${agree(ids.length, 'run', 'runs')} ${listed(ids.map((id) => called(plan.runs.get(id) ?? { id })))} ${agree(outletsOver.length, 'stands', 'stand')} under up to ${stands}, and may have ${may}: lower the set pressure, or set a regulator of its own for low ground.`,
      refs: ids.map((id) => ({ table: 'runs', id }) as const),
      source:
        'working range of the emitter as in the catalog; creep of the regulator at no flow: common practice',
      ...lowered(input, parts.controls[controlOfOutlet[worst]!], kpa - maxKpa),
    });
  }
  const limit = fittingLimit(input);
  const holdKpa = input.limit(limit);
  const over = runs.filter(({ highestKpa }) => isAbove(highestKpa, holdKpa));
  if (over.length > 0) {
    const most = over.reduce((a, b) => (b.highestKpa > a.highestKpa ? b : a));
    const [stands, hold] = twoFigures('pressure', most.highestKpa, holdKpa, units);
    notices.push({
      rule: 'static-pressure-fittings',
      severity: 'error',
      message: `With no flow the ${kindOf(limit)} of ${runNames(input, over)} stand under up to ${stands}, and usually hold ${hold}: lower the set pressure, set a regulator of its own for low ground, or use fittings that are rated for it.`,
      refs: over.map(({ runId }) => ({ table: 'runs', id: runId }) as const),
      source: limit.source,
      ...loweredFor(input, most.runId, most.highestKpa - holdKpa),
    });
  }
  return notices;
};

/** While water flows the fittings must hold what stands on them. */
export const fittingPressure: Check = (input) => {
  const { results, units } = input;
  const limit = fittingLimit(input);
  const holdKpa = input.limit(limit);
  const over = [...results.runs.values()].filter(({ highestKpa }) => isAbove(highestKpa, holdKpa));
  if (over.length === 0) return [];
  const most = over.reduce((a, b) => (b.highestKpa > a.highestKpa ? b : a));
  const [has, hold] = twoFigures('pressure', most.highestKpa, holdKpa, units);
  return [
    {
      rule: 'fitting-pressure-high',
      severity: 'error',
      message: `The ${kindOf(limit)} of ${runNames(input, over)} are under up to ${has} while water flows, and usually hold ${hold}: lower the set pressure, or use fittings that are rated for it.`,
      refs: over.map(({ runId }) => ({ table: 'runs', id: runId }) as const),
      source: limit.source,
      ...loweredFor(input, most.runId, most.highestKpa - holdKpa),
    },
  ];
};

const kindOf = (limit: Limit): string => (limit === BARBS ? 'barbs without clamps' : 'fittings');

function runNames({ plan }: CheckInput, runs: readonly { readonly runId: string }[]): string {
  const names = runs.map(({ runId }) => called(plan.runs.get(runId) ?? { id: runId }));
  return `${agree(runs.length, 'run', 'runs')} ${listed(names)}`;
}

function loweredFor(input: CheckInput, runId: string, byKpa: number) {
  const { planNetwork } = input;
  const index = fedBy(planNetwork).controlOfRun.get(runId);
  return index === undefined ? {} : lowered(input, planNetwork.parts.controls[index], byKpa);
}

/** A setting that takes so much off the pressure with no flow, its creep counted. */
function lowered(input: CheckInput, placed: PlacedControl | undefined, byKpa: number) {
  const control = placed && input.plan.controls.get(placed.id);
  if (!placed || !control) return {};
  return lowerSetting(input, placed, control.setKpa - byKpa / (1 + creepShareOf(input.plan, placed.id)));
}

export const highPressureRule: Rule = {
  number: 4,
  title: 'Most pressure on outlets and fittings, with flow and without',
  says: [
    'outlet-pressure-high',
    'fitting-pressure-high',
    'static-pressure-outlets',
    'static-pressure-fittings',
  ],
  severity: 'error',
  limits: [FITTINGS, BARBS],
  source: FITTING_SOURCE,
  check: (input) => [...highPressures(input), ...fittingPressure(input), ...staticPressure(input)],
};
