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

/** A stretch of a run, and of runs of the same dripline that go on at its end, that water passes one way. */
interface Stretch {
  readonly runIds: readonly string[];
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
  const isSuspect = new Set(suspects);
  const found = [...stretchesOf(input).values()].flatMap((stretch): TooLong[] => {
    if (!stretch.runIds.some((id) => isSuspect.has(id))) return [];
    const run = plan.runs.get(stretch.runIds[0]!);
    if (!run?.inline || !(stretch.inletKpa > 0)) return [];
    const longest = longestFor(run, stretch, plan);
    // Where not one outlet has enough pressure, length is not the cause.
    if (longest.outlets === 0 || !isAbove(stretch.lengthM, share * longest.lengthM)) return [];
    return [{ run, stretch, limit: longest }];
  });
  const kinds = new Map<string, TooLong[]>();
  for (const one of found) {
    const kind = kindOf(one.run);
    kinds.set(kind, [...(kinds.get(kind) ?? []), one]);
  }
  return [...kinds.values()].map((list): Notice => {
    const worst = list.reduce((a, b) =>
      b.stretch.lengthM / b.limit.lengthM > a.stretch.lengthM / a.limit.lengthM ? b : a,
    );
    const { inline, tubing } = worst.run;
    const ids = new Set(list.flatMap(({ stretch }) => stretch.runIds));
    const runs = [...ids].flatMap((id) => plan.runs.get(id) ?? []);
    const withNext =
      worst.stretch.runIds.length > 1
        ? ` with ${agree(worst.stretch.runIds.length - 1, 'the run', 'the runs')} that ${agree(worst.stretch.runIds.length - 1, 'goes', 'go')} on at its end`
        : '';
    const length = (m: number): string => formatQuantity('length', m, units);
    const part = share < 1 ? `${+(100 * share).toFixed(1)} % of ` : '';
    return {
      rule: 'run-too-long',
      severity: 'error',
      message: `${agree(runs.length, 'Run', 'Runs')} ${listed(runs.map(called))} ${agree(runs.length, 'is', 'are')} longer than the dripline carries: ${called(worst.run)}${withNext} leads water ${length(worst.stretch.lengthM)} one way, and ${tubingById(tubing)?.name ?? 'dripline'} with ${formatQuantity('outletFlow', inline!.ratedFlowLph, units)} every ${formatQuantity('spacing', inline!.spacingM, units)} takes ${part}${length(worst.limit.lengthM)} from ${formatQuantity('pressure', worst.stretch.inletKpa, units)}${slopeWords(worst.stretch.slopePercent)}. Feed it from the middle or from both ends, part it, or take less flow or a wider spacing.`,
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

interface Part {
  readonly run: Run;
  readonly inlet: number;
  readonly outlet: number;
  readonly lengthM: number;
}

/**
 * By the run in which water enters: the longest stretch with the flow in one direction, and the pressure and slope from
 * there. It goes on where nothing but the next run of the same dripline joins the end.
 */
function stretchesOf({ plan, planNetwork, results: { solution } }: CheckInput): Map<string, Stretch> {
  const { network, pieces } = planNetwork;
  const { from, to, lengthM, count } = network.links;
  const { elevationM } = network.nodes;
  const joined = new Int32Array(network.nodes.count);
  const parts: Part[] = [];
  for (let link = 0; link < count; link++) {
    joined[from[link]!]! += 1;
    joined[to[link]!]! += 1;
  }
  // Pieces of a run follow one another in the order of its path.
  for (let link = 0; link < count; link++) {
    const { owner } = pieces[link]!;
    const run = owner.table === 'runs' ? plan.runs.get(owner.id) : undefined;
    if (!run?.inline) continue;
    const forward = solution.flowM3s[link]! >= 0;
    let sum = lengthM[link]!;
    let last = link;
    while (
      last + 1 < count &&
      pieces[last + 1]!.owner.table === 'runs' &&
      pieces[last + 1]!.owner.id === owner.id &&
      solution.flowM3s[last + 1]! >= 0 === forward
    ) {
      last += 1;
      sum += lengthM[last]!;
    }
    const [inlet, outlet] = forward ? [from[link]!, to[last]!] : [to[last]!, from[link]!];
    parts.push({ run, inlet, outlet, lengthM: sum });
    link = last;
  }

  const byInlet = new Map(parts.map((part) => [part.inlet, part]));
  const nextOf = (part: Part): Part | undefined => {
    const next = joined[part.outlet] === 2 ? byInlet.get(part.outlet) : undefined;
    return next && next.run !== part.run && kindOf(next.run) === kindOf(part.run) ? next : undefined;
  };
  const goesOn = new Set(parts.flatMap((part) => nextOf(part) ?? []));
  const longest = new Map<string, Stretch>();
  for (const first of parts) {
    if (goesOn.has(first)) continue;
    const chain = new Set([first]);
    let last = first;
    for (let next = nextOf(last); next && !chain.has(next); next = nextOf(next)) {
      chain.add(next);
      last = next;
    }
    const sum = [...chain].reduce((all, part) => all + part.lengthM, 0);
    if (!(sum > (longest.get(first.run.id)?.lengthM ?? 0))) continue;
    const riseM = elevationM[last.outlet]! - elevationM[first.inlet]!;
    longest.set(first.run.id, {
      runIds: [...new Set([...chain].map(({ run }) => run.id))],
      lengthM: sum,
      inletKpa: headToKpa(solution.headM[first.inlet]! - elevationM[first.inlet]!),
      slopePercent: Math.round((100 * riseM) / Math.max(sum, 1e-6)),
    });
  }
  return longest;
}

/** What makes dripline one kind. */
function kindOf({ tubing, inline }: Run): string {
  return [tubing, inline!.law, inline!.ratedFlowLph, inline!.spacingM].join(' ');
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
