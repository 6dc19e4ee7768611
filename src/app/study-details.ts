import type { Results } from '../derive/results.ts';
import type { Scenario } from '../derive/scenarios/scenario.ts';
import type { StudyDetails } from '../derive/study.ts';
import type { Plan } from '../plan/records.ts';
import { both, columns, pair } from './study-text.ts';

/** Longest list of outlets or groups that is printed; the JSON has all. */
const MOST_LINES = 12;

/** The state behind a heading; nothing for the usual one. */
export function stateOf(scenario: Scenario): string {
  switch (scenario.kind) {
    case 'running':
      return '';
    case 'static':
      return ', nothing flowing';
    case 'flushing':
      return `, flushing with ${scenario.open.length} ${scenario.open.length === 1 ? 'end' : 'ends'} open`;
    case 'clogged':
      return `, ${(100 * scenario.share).toFixed(0)} % of the outlets clogged`;
    case 'dirty-filter':
      return ', filters dirty';
    case 'low-supply':
      return ', lowest static pressure';
  }
}

export function supplyLines(plan: Plan, { supplies }: Results): string[] {
  return supplies.flatMap(({ id, flowLph, staticKpa, outletKpa, losses }) => [
    pair(`supply ${plan.supplies.get(id)?.name || id}`, `${both('pressure', staticKpa)} with no flow`),
    ...losses.map(({ part, lossKpa }) => pair(`  ${part}`, `-${both('pressure', lossKpa)}`)),
    ...(Number.isFinite(outletKpa)
      ? [pair('  after the valve', `${both('pressure', outletKpa)} at ${both('zoneFlow', flowLph)}`)]
      : []),
  ]);
}

export function acceptanceLines({ acceptance }: StudyDetails): string[] {
  if (acceptance.length === 0) return [];
  const rows = acceptance.map(({ measure, percent, className, applies, source }) => [
    measure,
    `${percent.toFixed(1)} %`,
    className,
    applies || '-',
    source,
  ]);
  return columns(['figure', 'here', 'class', 'applies to', 'source'], rows);
}

export function standingLines(plan: Plan, { standing }: StudyDetails): string[] {
  if (!Number.isFinite(standing.highestKpa)) return [];
  return [
    pair('highest on a run', both('pressure', standing.highestKpa)),
    pair('over their range', `${standing.outletsOver.length} outlets`),
    ...standing.runsOver
      .slice(0, MOST_LINES)
      .map(({ runId, highestKpa }) =>
        pair('fittings over', `run ${plan.runs.get(runId)?.name || runId}, ${both('pressure', highestKpa)}`),
      ),
  ];
}

export function flushingLines(plan: Plan, { flushed, flushGroups }: StudyDetails): string[] {
  const named = (runId: string): string => plan.runs.get(runId)?.name || runId;
  return [
    ...flushed.map(({ runId, end, velocityMs, flowLph, reached }) =>
      pair(
        named(runId),
        `${end}: ${both('velocity', velocityMs)}, ${both('zoneFlow', flowLph)}${reached ? '' : ', too slow'}`,
      ),
    ),
    ...flushGroups
      .slice(0, MOST_LINES)
      .map((ids, i) =>
        pair(
          `open together ${i + 1}`,
          ids.map((id) => named(plan.flushEnds.get(id)?.runId ?? id)).join(', '),
        ),
      ),
  ];
}

export function drainLines(plan: Plan, { drain, drainWithoutChecks }: StudyDetails): string[] {
  if (!(drain.totalL > 0)) return [];
  return [
    pair('in the tubing', both('volume', drain.totalL)),
    pair('drains', both('volume', drain.drainedL)),
    pair('stays', both('volume', drain.heldL)),
    ...(plan.checkValves.size > 0
      ? [pair('', `without check valves ${both('volume', drainWithoutChecks.drainedL)} would drain`)]
      : []),
    ...drain.outlets
      .slice(0, MOST_LINES)
      .map(({ runId, owner, number, volumeL }) =>
        pair(
          '',
          `${both('volume', volumeL)} at ${owner.table === 'emitters' ? `emitter ${owner.id}` : `outlet ${number}`} of ${plan.runs.get(runId)?.name || runId}`,
        ),
      ),
  ];
}
