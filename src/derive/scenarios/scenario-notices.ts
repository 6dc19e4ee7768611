import { memo } from '../../base/memo.ts';
import type { UnitSystem } from '../../base/quantity.ts';
import { dulq, solve } from '../../hydraulics/index.ts';
import { refKey, type Plan } from '../../plan/records.ts';
import { checkPlan } from '../checks/index.ts';
import { limitOf } from '../checks/check.ts';
import { STATE_CHECKS } from '../checks/state-checks.ts';
import { withWaivers } from '../checks/waivers.ts';
import { staticPressure } from '../checks/static-pressure.ts';
import { readResults } from '../read-results.ts';
import type { Notice, Results } from '../results.ts';
import { isBelow, shownSource } from '../wording.ts';
import { flushingNotices } from './flushing-notices.ts';
import { networkFor } from './network-for.ts';
import type { Scenario } from './scenario.ts';

/** A plan solved in a state. */
export function resultsFor(plan: Plan, scenario: Scenario): Results {
  const network = networkFor(plan, scenario);
  return readResults(network, solve(network.network));
}

/** Share of the emitters taken as closed. */
const CLOGGED_SHARE = 0.1;
/** Least DUlq of a zone with that share closed, against that of emitters which are otherwise all alike. */
const CLOGGED_LEAST = 0.9;

/**
 * What is wrong in any situation: running, no flow, low supply, dirty filter, clogged, flushing by groups, and after
 * shut-off. Each message begins with its situation; what is the same as in running is told under `Running` alone, and a
 * situation that could not be checked is told as info. Solves the network many times, so it is asked for on demand, not
 * while something is dragged.
 */
export const scenarioNotices = memo((plan: Plan, units: UnitSystem): Notice[] => {
  const planNetwork = networkFor(plan, { kind: 'running' });
  const usual = resultsFor(plan, { kind: 'running' });
  const standing = staticPressure({ plan, planNetwork, results: usual, units, limit: limitOf(plan) });
  const running = [...usual.notices, ...checkPlan(plan, planNetwork, usual, units)].filter(
    ({ rule }) => !standing.some((notice) => notice.rule === rule),
  );
  const notices = [...within('Running', running), ...within('No flow', withWaivers(plan, standing))];
  if (planNetwork.outlets.length === 0) return notices;
  if (!hasPressure(plan)) {
    return [
      ...notices,
      notChecked('Other situations', 'no pressure is known at a supply: Survey, Water service'),
    ];
  }
  return [
    ...notices,
    ...(plan.water.lowStaticKpa === null
      ? [notChecked('Low supply', 'the lowest static pressure is not typed: Survey, Water service')]
      : []),
    ...(planNetwork.parts.flushEnds.length === 0 ? [notChecked('Flushing', 'no flush ends are set')] : []),
    ...clogged(plan, usual),
    ...situationNotices(plan, units),
  ];
});

/**
 * What situations other than running and no flow bring to light by the layout itself: low supply, dirty filter and
 * flushing, each message with its situation. Left out is what running has already, and what a rule of its own tells:
 * slow flush ends, and lines that drain after shut-off.
 */
export const situationNotices = memo((plan: Plan, units: UnitSystem): Notice[] => {
  if (networkFor(plan, { kind: 'running' }).outlets.length === 0 || !hasPressure(plan)) return [];
  return withWaivers(plan, [
    ...(plan.water.lowStaticKpa === null
      ? []
      : within('Low supply', inState(plan, { kind: 'low-supply' }, units).map(orAnotherHour))),
    ...within('Dirty filter', inState(plan, { kind: 'dirty-filter' }, units)),
    ...within('Flushing', flushingNotices(plan, units)),
  ]);
});

/** Rules that name their situation themselves. */
const NAMES_SITUATION = /^(?:Flushing|After shut-off): /;

function within(situation: string, notices: readonly Notice[]): Notice[] {
  return notices.map((notice) => ({
    ...notice,
    message: NAMES_SITUATION.test(notice.message) ? notice.message : `${situation}: ${notice.message}`,
    ...(notice.source === undefined ? {} : { source: shownSource(notice.source) }),
  }));
}

function notChecked(situation: string, why: string): Notice {
  return {
    rule: 'situation-not-checked',
    severity: 'info',
    message: `${situation}: not checked, ${why}.`,
    refs: [],
  };
}

function hasPressure(plan: Plan): boolean {
  return networkFor(plan, { kind: 'running' }).parts.supplies.some((supply) => supply.hasPressure);
}

/** What the rules find in a state and not in running. */
function inState(plan: Plan, scenario: Scenario, units: UnitSystem): Notice[] {
  const find = (state: Scenario): Notice[] => {
    const planNetwork = networkFor(plan, state);
    const results = readResults(planNetwork, solve(planNetwork.network));
    // Figures that did not settle prove nothing more.
    if (!results.solution.converged) return [...results.notices];
    const input = { plan, planNetwork, results, units, limit: limitOf(plan) };
    return [...results.notices, ...STATE_CHECKS.flatMap((check) => check(input))];
  };
  const keysOf = ({ rule, severity, refs }: Notice): string[] =>
    refs.map((ref) => `${rule} ${severity} ${refKey(ref)}`);
  const running = find({ kind: 'running' });
  const before = new Set(running.map(({ rule, message }) => `${rule} ${message}`));
  const told = new Set(running.flatMap(keysOf));
  // The same fault of the same records by other figures would only be said twice.
  const isTold = (notice: Notice): boolean =>
    notice.refs.length > 0 && keysOf(notice).every((key) => told.has(key));
  return find(scenario).filter(
    (notice) => !before.has(`${notice.rule} ${notice.message}`) && !isTold(notice),
  );
}

const BY_THE_HOUR: readonly string[] = ['regulator-headroom', 'outlet-pressure-low', 'outlets-dry'];
function orAnotherHour(notice: Notice): Notice {
  if (!BY_THE_HOUR.includes(notice.rule)) return notice;
  return { ...notice, message: `${notice.message} Or water at an hour of less use.` };
}

function clogged(plan: Plan, usual: Results): Notice[] {
  const scenario = { kind: 'clogged', share: CLOGGED_SHARE } as const;
  const { isClosed } = networkFor(plan, scenario);
  const { uniformity, outlets } = resultsFor(plan, scenario);
  // Closed emitters alone bring it down in every zone: only what the zone adds to that is a finding.
  const alike = dulq(outlets.map((_, i) => (isClosed(i) ? 0 : 1)));
  if (!uniformity || !isBelow(uniformity.dulq, CLOGGED_LEAST * alike)) return [];
  const percent = (value: number): string => `${value.toFixed(0)} %`;
  const before = usual.uniformity ? ` from ${percent(usual.uniformity.dulq)}` : '';
  return within('Clogged', [
    {
      rule: 'clogged-uniformity',
      severity: 'warning',
      message: `With ${percent(100 * CLOGGED_SHARE)} of the emitters closed DUlq falls${before} to ${percent(uniformity.dulq)}; emitters that are otherwise all alike would have ${percent(alike)}. Filter and flush so that fewer clog, and give each plant two emitters or more.`,
      refs: [],
      source: 'common practice: DUlq of 70 % as the least for drip',
    },
  ]);
}
