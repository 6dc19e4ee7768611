import { formatQuantity } from '../../base/quantity.ts';
import { PSI_KPA } from '../../base/units.ts';
import { outletLawById, tubingById } from '../../catalog/index.ts';
import { flowVariation, headToKpa } from '../../hydraulics/index.ts';
import type { Plan, Run } from '../../plan/records.ts';
import { longestRun, type LongestRun, type LongestRunAsk } from '../limits/longest-run.ts';
import { called } from '../network/notices.ts';
import type { Notice, OutletResult } from '../results.ts';
import { agree, isAbove, listed } from '../wording.ts';
import type { Check, CheckInput, Limit, Rule } from './check.ts';

const SHARE: Limit = {
  key: 'run-too-long.share',
  label: 'Length of dripline as a share of the computed longest run',
  kind: 'percent',
  usual: 100,
  least: 20,
  most: 100,
  source:
    'computed: the longest run whose outlets keep their least pressure, and plain ones their flows within 10 percent',
};
const PLAIN_PERCENT = 10;

/** A stretch of a run that water passes one way. */
interface Stretch {
  readonly lengthM: number;
  readonly inletKpa: number;
  readonly slopePercent: number;
}

interface TooLong {
  readonly run: Run;
  readonly stretch: Stretch;
  readonly limit: LongestRun;
}

/**
 * Dripline that is longer, from where water enters it to where it has no more to give, than its bore, emitters and
 * inlet pressure allow. Fed from both ends it counts as two. The longest run is computed only where the outlets of a
 * run are not all in order, unless less than the whole of it is allowed.
 */
const runLength: Check = (input) => {
  const { plan, results, units, limit } = input;
  const share = limit(SHARE) / 100;
  const ofRun = new Map<string, OutletResult[]>();
  for (const outlet of results.outlets) {
    if (outlet.owner.table !== 'runs') continue;
    const list = ofRun.get(outlet.runId);
    if (list) list.push(outlet);
    else ofRun.set(outlet.runId, [outlet]);
  }
  const suspects = [...ofRun].filter(([, outlets]) => share < 1 || !inOrder(outlets)).map(([id]) => id);
  if (suspects.length === 0) return [];
  const stretches = stretchesOf(input, new Set(suspects));
  const found = suspects.flatMap((id): TooLong[] => {
    const run = plan.runs.get(id);
    const stretch = stretches.get(id);
    if (!run?.inline || !stretch || !(stretch.inletKpa > 0)) return [];
    const longest = longestFor(run, stretch, plan);
    // Where not one outlet has enough pressure, length is not the cause.
    if (longest.outlets === 0 || !isAbove(stretch.lengthM, share * longest.lengthM)) return [];
    return [{ run, stretch, limit: longest }];
  });
  const kinds = new Map<string, TooLong[]>();
  for (const one of found) {
    const { tubing, inline } = one.run;
    const kind = [tubing, inline!.law, inline!.ratedFlowLph, inline!.spacingM].join(' ');
    kinds.set(kind, [...(kinds.get(kind) ?? []), one]);
  }
  return [...kinds.values()].map((list): Notice => {
    const worst = list.reduce((a, b) =>
      b.stretch.lengthM / b.limit.lengthM > a.stretch.lengthM / a.limit.lengthM ? b : a,
    );
    const { inline, tubing } = worst.run;
    const runs = list.map(({ run }) => run);
    const length = (m: number): string => formatQuantity('length', m, units);
    const part = share < 1 ? `${+(100 * share).toFixed(1)} % of ` : '';
    return {
      rule: 'run-too-long',
      severity: 'error',
      message: `${agree(runs.length, 'Run', 'Runs')} ${listed(runs.map(called))} ${agree(runs.length, 'is', 'are')} longer than the dripline carries: ${called(worst.run)} leads water ${length(worst.stretch.lengthM)} one way, and ${tubingById(tubing)?.name ?? 'dripline'} with ${formatQuantity('outletFlow', inline!.ratedFlowLph, units)} every ${formatQuantity('spacing', inline!.spacingM, units)} takes ${part}${length(worst.limit.lengthM)} from ${formatQuantity('pressure', worst.stretch.inletKpa, units)}${slopeWords(worst.stretch.slopePercent)}. Feed it from the middle or from both ends, part it, or take less flow or a wider spacing.`,
      refs: runs.map(({ id }) => ({ table: 'runs', id }) as const),
      source: SHARE.source,
    };
  });
};

function slopeWords(percent: number): string {
  if (percent === 0) return '';
  return percent > 0 ? `, rising ${percent} %` : `, falling ${-percent} %`;
}

/** Whether pressures, and flows of plain outlets, are such as the longest run may have them. */
function inOrder(outlets: readonly OutletResult[]): boolean {
  if (outlets.some(({ state }) => state === 'low' || state === 'dry')) return false;
  if (outlets[0]!.compensating) return true;
  return flowVariation(outlets.map(({ flowLph }) => flowLph)) <= PLAIN_PERCENT;
}

/** By run: its longest stretch with the flow in one direction, and the pressure and slope from where water enters. */
function stretchesOf(
  { planNetwork: { network, pieces }, results: { solution } }: CheckInput,
  ids: ReadonlySet<string>,
): Map<string, Stretch> {
  const longest = new Map<string, Stretch>();
  const { from, to, lengthM } = network.links;
  const { elevationM } = network.nodes;
  // Pieces of a run follow one another in the order of its path.
  for (let link = 0; link < network.links.count; link++) {
    const { owner } = pieces[link]!;
    if (owner.table !== 'runs' || !ids.has(owner.id)) continue;
    const forward = solution.flowM3s[link]! >= 0;
    let sum = lengthM[link]!;
    let last = link;
    while (
      last + 1 < network.links.count &&
      pieces[last + 1]!.owner.table === 'runs' &&
      pieces[last + 1]!.owner.id === owner.id &&
      solution.flowM3s[last + 1]! >= 0 === forward
    ) {
      last += 1;
      sum += lengthM[last]!;
    }
    const inlet = forward ? from[link]! : to[last]!;
    const outlet = forward ? to[last]! : from[link]!;
    if (sum > (longest.get(owner.id)?.lengthM ?? 0)) {
      const riseM = elevationM[outlet]! - elevationM[inlet]!;
      longest.set(owner.id, {
        lengthM: sum,
        inletKpa: headToKpa(solution.headM[inlet]! - elevationM[inlet]!),
        slopePercent: Math.round((100 * riseM) / Math.max(sum, 1e-6)),
      });
    }
    link = last;
  }
  return longest;
}

const known = new Map<string, LongestRun>();
/** Answers kept: kinds of dripline times whole psi of inlet pressure that one plan meets. */
const MOST_KEPT = 300;

/** Computed once for a kind of dripline at an inlet pressure to the next half psi, and a slope to the next percent. */
function longestFor(run: Run, { inletKpa, slopePercent }: Stretch, { water }: Plan): LongestRun {
  const { law, ratedFlowLph, spacingM } = run.inline!;
  const step = PSI_KPA / 2;
  const ask: LongestRunAsk = {
    tubing: run.tubing,
    law,
    ratedFlowLph,
    spacingM,
    inletKpa: Math.max(1, Math.round(inletKpa / step)) * step,
    slopePercent,
    limit: outletLawById(law)?.compensating ? 'min-pressure' : 'flow-variation-10',
    ...(water.waterC === null ? {} : { waterC: water.waterC }),
  };
  const key = JSON.stringify(ask);
  const before = known.get(key);
  if (before) return before;
  if (known.size >= MOST_KEPT) known.clear();
  const found = longestRun(ask);
  known.set(key, found);
  return found;
}

export const runLengthRule: Rule = {
  number: 13,
  title: 'Longest run of dripline',
  says: ['run-too-long'],
  severity: 'error',
  limits: [SHARE],
  source: SHARE.source,
  check: runLength,
};
