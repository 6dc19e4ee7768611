import { ruleOf } from '../derive/checks/index.ts';
import type { Decision } from '../derive/decision.ts';
import type { Reason, Verdict } from '../derive/existing/verdict/index.ts';
import type { Notice } from '../derive/results.ts';
import { refKey } from '../plan/records.ts';

/** The verdict, tie-ins, coverage, soil and lateral of a study as plain objects in SI units, as docs/study.md tells. */
export function decisionJson({
  verdict,
  tieIns,
  laterals,
  coverage,
  flowChecks,
  soil,
}: Decision): Record<string, unknown> {
  return {
    verdict: verdictJson(verdict),
    tieIns: tieIns.flatMap(({ supplyId, candidates }) =>
      candidates.map((candidate) => ({ ...candidate, supplyId })),
    ),
    tieInZones: tieIns.map(({ zone, supplyId, evaluated, candidates, notices }) => ({
      zone,
      supplyId,
      best: candidates[0]?.id ?? null,
      evaluated,
      notices: notices.map(noticeJson),
    })),
    coverage: {
      total: coverage.total,
      zones: coverage.zones,
      beds: coverage.beds,
      heads: [...coverage.heads.values()],
      headsWithoutPattern: coverage.headsWithoutPattern,
      headsInBuildings: coverage.headsInBuildings,
    },
    soil: {
      ...soil.texture,
      slope: soil.slope,
      intake: soil.intake,
      sprayRateMmPerH: soil.rateMmPerH,
      ponding: soil.ponding,
    },
    lateral: laterals.map(({ notices, ...lateral }) => ({ ...lateral, notices: notices.map(noticeJson) })),
    flowChecks,
  };
}

function verdictJson({ outcome, reasons, clear, zones, missing }: Verdict): Record<string, unknown> {
  return {
    outcome,
    reasons: reasons.map(reasonJson),
    clear: clear.map(reasonJson),
    zones: zones.map((zone) => ({ zone: zone.zone, supplyId: zone.supplyId, outcome: zone.outcome })),
    missing,
  };
}

function reasonJson({ refs, ...reason }: Reason): Record<string, unknown> {
  return { ...reason, refs: refs.map(refKey) };
}

export function noticeJson({ rule, severity, message, refs, source }: Notice): Record<string, unknown> {
  return { rule, severity, message, refs: refs.map(refKey), source: source ?? null };
}

/** A finding with all that a person can do about it: `number` of its rule, the name of its way out, its waiver. */
export function checkJson(notice: Notice): Record<string, unknown> {
  const { fix, waived } = notice;
  return {
    number: ruleOf(notice.rule)?.number ?? null,
    ...noticeJson(notice),
    fix: fix?.label ?? null,
    waived: waived ?? null,
  };
}
