import type { Decision } from '../derive/decision.ts';
import { changedLimits } from '../derive/checks/index.ts';
import type { OutletResult, RunResult } from '../derive/results.ts';
import type { DrainDown } from '../derive/scenarios/drain-down.ts';
import type { Study, StudyDetails } from '../derive/study.ts';
import type { Opened } from '../plan/file.ts';
import { refKey } from '../plan/records.ts';
import { checkJson, decisionJson, noticeJson } from './study-decision.ts';

/** A file with its study. */
export interface Studied {
  readonly file: string;
  readonly opened: Opened;
  readonly study: Study;
  readonly decision: Decision;
  readonly details: StudyDetails;
}

/**
 * The study as one plain object in SI units (m, m2, L, L/h, mm/h, kPa, m/s), as docs/study.md tells. A figure that
 * is not known or not finite is `null`.
 */
export function studyJson({ file, opened, study, decision, details }: Studied): Record<string, unknown> {
  const { results } = details;
  const { plan } = opened;
  return finite({
    format: 'dripwright-study',
    version: 4,
    file,
    kind: opened.kind,
    site: plan.site.name,
    existing: study.existing,
    ...decisionJson(decision),
    scenario: details.scenario,
    friction: details.friction,
    hydraulics: {
      totals: {
        totalFlowLph: results.totalFlowLph,
        outletCount: results.outletCount,
        runCount: plan.runs.size,
        runLengthM: sum([...results.runs.values()].map((run) => run.lengthM)),
        lowestKpa: results.lowestKpa,
        highestKpa: results.highestKpa,
        meanFlowLph: results.meanFlowLph,
        uniformity: results.uniformity,
        eu: results.eu,
        us: results.us,
        counts: results.counts,
      },
      solver: {
        converged: results.solution.converged,
        iterations: results.solution.iterations,
        massErrorM3s: results.solution.massErrorM3s,
        energyErrorM: results.solution.energyErrorM,
      },
      acceptance: details.acceptance,
      supplies: results.supplies,
      zones: results.zones.map(({ owner, ...zone }) => ({ owner: refKey(owner), ...zone })),
      runs: [...results.runs.values()].map((run) => runJson(run, plan.runs.get(run.runId)?.name ?? '')),
      outlets: results.outlets.map(outletJson),
    },
    standing: {
      highestKpa: details.standing.highestKpa,
      outletsOver: details.standing.outletsOver.length,
      runsOver: details.standing.runsOver,
    },
    flushing: {
      ends: details.flushed.map(({ at, ...end }) => ({ ...end, xM: at[0], yM: at[1] })),
      groups: details.flushGroups,
    },
    drainDown: { ...drainJson(details.drain), withoutCheckValves: drainJson(details.drainWithoutChecks) },
    checks: study.notices.map(checkJson),
    limits: changedLimits(plan).map(({ limit, value }) => ({
      key: limit.key,
      kind: limit.kind,
      value,
      usual: limit.usual,
    })),
    notices: study.notices.map(noticeJson),
    reading: opened.notices,
  }) as Record<string, unknown>;
}

function drainJson({ outlets, ...volumes }: DrainDown): Record<string, unknown> {
  return {
    ...volumes,
    outlets: outlets.map(({ owner, at, outlet: _index, ...rest }) => ({
      owner: refKey(owner),
      ...rest,
      xM: at[0],
      yM: at[1],
    })),
  };
}

function runJson(run: RunResult, name: string): Record<string, unknown> {
  return { ...run, name };
}

function outletJson(outlet: OutletResult): Record<string, unknown> {
  const { owner, at, tap, ...rest } = outlet;
  return { owner: refKey(owner), ...rest, xM: at[0], yM: at[1], tapXM: tap[0], tapYM: tap[1] };
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}

/** The same value with `null` for every number that is not finite. */
function finite(value: unknown): unknown {
  if (typeof value === 'number') return Number.isFinite(value) ? value : null;
  if (Array.isArray(value)) return value.map(finite);
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([key, part]) => [key, finite(part)]));
}
