import { memo } from '../../../base/memo.ts';
import type { UnitSystem } from '../../../base/quantity.ts';
import type { Plan } from '../../../plan/records.ts';
import { bedSlope, intakeOf } from '../../soil/index.ts';
import { agree, listed } from '../../wording.ts';
import { coverageOf, type Coverage } from '../coverage/index.ts';
import { expectedDripFlow, unplacedKinds, zonePlants } from '../expected-drip.ts';
import { existingZones, type ExistingZone } from '../zones.ts';
import { blockedHeads } from './blocked-heads.ts';
import { pressureAtFilter } from './filter-pressure.ts';
import { galvanised } from './galvanised.ts';
import { largeTrees } from './large-trees.ts';
import { mixedWaterUse } from './mixed-water-use.ts';
import { oversprayShare } from './overspray-share.ts';
import { pressureBudget } from './pressure-budget.ts';
import { rateOverIntake } from './rate-over-intake.ts';
import { allOf, type Finding, type Rule, type ZoneInput } from './rule.ts';
import { sharedValve } from './shared-valve.ts';
import { sprayNearPaving } from './spray-near-paving.ts';
import { steepSlope } from './steep-slope.ts';
import { timeToPonding } from './time-to-ponding.ts';
import { unknownPipe } from './unknown-pipe.ts';
import { valveMinimum } from './valve-minimum.ts';
import type { Outcome, Reason, Verdict, ZoneVerdict } from './verdict.ts';

export type { Outcome, Reason, Verdict, VerdictRule, ZoneVerdict } from './verdict.ts';

/** After the one on what shares the valve; in the order in which their reasons are told. */
const RULES: readonly Rule[] = [
  pressureBudget,
  mixedWaterUse,
  rateOverIntake,
  timeToPonding,
  oversprayShare,
  sprayNearPaving,
  blockedHeads,
  steepSlope,
  valveMinimum,
  galvanised,
  unknownPipe,
  largeTrees,
];

const NO_HEADS = 'The spray heads of the zone, with their flow, radius, start and sweep.';

/**
 * Whether to convert each zone of the old system, and why (docs/decide.md). A zone is left as it is where the pressure
 * does not allow drip, where it has no head to convert, or where nothing speaks for drip; it is to be split where
 * something on its valve must go first; else it is to be converted. In all: split where any zone is to be split,
 * since that work comes first; else convert where any zone is; else leave. Never a guarantee: local codes go before.
 */
export function verdictOf(plan: Plan, units: UnitSystem): Verdict {
  return remembered(plan, units);
}

const remembered = memo((plan: Plan, units: UnitSystem): Verdict => {
  const zones = existingZones(plan);
  const coverage = coverageOf(plan);
  const plants = zonePlants(plan);
  const found = zones.map((zone, i) => {
    const kinds = zones.length === 1 ? unplacedKinds(plan) : [];
    const finding = findingOf(inputOf(plan, units, zone, coverage, i, plants.get(zone.zone) ?? [], kinds));
    return { verdict: zoneVerdict(zone, finding), missing: finding.missing };
  });
  const verdicts = found.map(({ verdict }) => verdict);
  const missing = [
    ...(zones.length === 0 ? [NO_HEADS] : []),
    ...found.flatMap((one) => one.missing),
    ...misplaced(coverage.headsInBuildings),
  ];
  return {
    outcome: overall(verdicts.map(({ outcome }) => outcome)),
    reasons: verdicts.flatMap(({ reasons }) => reasons),
    clear: verdicts.flatMap(({ clear }) => clear),
    zones: verdicts,
    missing: [...new Set(missing)],
  };
});

/** Where there is nothing to convert, nothing else about the zone matters. */
function findingOf(input: ZoneInput): Finding {
  const sharing = sharedValve(input);
  const isIdle = sharing.reasons.some(({ rule }) => rule === 'nothing-to-convert');
  return isIdle ? sharing : allOf(sharing, ...RULES.map((rule) => rule(input)));
}

function misplaced(ids: readonly string[]): string[] {
  if (ids.length === 0) return [];
  const who = agree(ids.length, `head ${ids[0]} stands: it is`, `heads ${listed(ids)} stand: they are`);
  return [`Where ${who} drawn inside of a building.`];
}

function inputOf(
  plan: Plan,
  units: UnitSystem,
  zone: ExistingZone,
  coverage: Coverage,
  index: number,
  plants: ZoneInput['plants'],
  kinds: ZoneInput['kinds'],
): ZoneInput {
  const own = new Set(zone.heads.map(({ id }) => id));
  const reachedBeds = coverage.beds.filter(({ headIds }) => headIds.some((id) => own.has(id)));
  const expected = expectedDripFlow(plan, zone.zone);
  const slopePercent = bedSlope(plan)?.meanPercent ?? null;
  return {
    plan,
    units,
    zone,
    bedHeads: zone.heads.filter(({ waters }) => waters === 'bed'),
    coverage: coverage.zones[index]!,
    beds: coverage.zones[index]!.shares === null ? coverage.beds : reachedBeds,
    ownBeds: new Set(
      reachedBeds.filter(({ headIds }) => headIds.every((id) => own.has(id))).map(({ id }) => id),
    ),
    slopePercent,
    intake: intakeOf(plan.soil, slopePercent),
    expected,
    pressure: expected && pressureAtFilter(plan, units, zone, expected.highLph),
    plants,
    kinds,
    laterals: zone.laterals,
  };
}

function zoneVerdict({ zone, supply }: ExistingZone, { reasons, clear }: Finding): ZoneVerdict {
  return {
    zone,
    supplyId: supply?.id ?? null,
    outcome: outcomeOf(reasons),
    reasons: [
      ...reasons.filter(({ blocks }) => blocks),
      ...reasons.filter(({ blocks, speaks }) => !blocks && speaks === 'against'),
      ...reasons.filter(({ speaks }) => speaks === 'for'),
      ...reasons.filter(({ blocks, speaks }) => !blocks && speaks === 'condition'),
    ],
    clear,
  };
}

function outcomeOf(reasons: readonly Reason[]): Outcome {
  const has = (rule: Reason['rule']): boolean => reasons.some((reason) => reason.rule === rule);
  // No splitting brings pressure.
  if (has('nothing-to-convert') || reasons.some(({ rule, blocks }) => blocks && rule === 'pressure-budget'))
    return 'leave';
  if (reasons.some(({ blocks }) => blocks)) return 'split';
  return reasons.some(({ speaks }) => speaks === 'for') ? 'convert' : 'leave';
}

function overall(outcomes: readonly Outcome[]): Outcome {
  if (outcomes.includes('split')) return 'split';
  return outcomes.includes('convert') ? 'convert' : 'leave';
}
