import { FOOT_M, GALLON_L } from '../../base/units.ts';
import { tubingById } from '../../catalog/index.ts';
import type { Run } from '../../plan/records.ts';
import { called } from '../network/notices.ts';
import { UnionFind } from '../network/union-find.ts';
import type { Fix, Notice, PlanNetwork } from '../results.ts';
import { agree, isAbove, listed, twoFigures } from '../wording.ts';
import type { Check, Limit, Rule } from './check.ts';

const source =
  'Arizona cities, public water-saving campaign, design and installation tips: 200 ft and 200 gph for 1/2 in tubing';
const LENGTH: Limit = {
  key: 'blank-run.length',
  label: 'Length of one run of 1/2 in tubing',
  kind: 'length',
  usual: 200 * FOOT_M,
  least: 1,
  most: 1000,
  source,
};
const FLOW: Limit = {
  key: 'blank-run.flow',
  label: 'Flow in 1/2 in tubing',
  kind: 'outletFlow',
  usual: 200 * GALLON_L,
  least: 1,
  most: 10_000,
  source,
};
/** Bores of what is sold as 1/2 in tubing, mm (common practice). */
const HALF_INCH_MM = [11, 18] as const;

/** Long or crowded 1/2 in tubing loses too much; what is blank feeds other runs or point emitters. */
const blankRun: Check = ({ plan, planNetwork, results, units, limit }) => {
  const mostM = limit(LENGTH);
  const mostLph = limit(FLOW);
  const half = [...plan.runs].flatMap((run) => {
    const boreMm = tubingById(run.tubing)?.innerDiameterMm ?? 0;
    return !run.inline && boreMm >= HALF_INCH_MM[0] && boreMm <= HALF_INCH_MM[1] ? [{ run, boreMm }] : [];
  });
  const notices: Notice[] = [];
  const long = endToEnd(
    half.map(({ run }) => run),
    planNetwork,
  )
    .map((runs) => ({
      runs,
      lengthM: runs.reduce((sum, { id }) => sum + (planNetwork.parts.runLengthM.get(id) ?? 0), 0),
    }))
    .filter(({ lengthM }) => isAbove(lengthM, mostM));
  if (long.length > 0) {
    const [is, most] = twoFigures('length', Math.max(...long.map(({ lengthM }) => lengthM)), mostM, units);
    const runs = long.flatMap((one) => one.runs);
    const count = runs.length;
    const joined = long.some((one) => one.runs.length > 1) ? ', counted end to end' : '';
    notices.push({
      rule: 'blank-run-long',
      severity: 'warning',
      message: `${agree(count, 'Run', 'Runs')} ${listed(runs.map(called))} of 1/2 in tubing ${agree(count, 'is', 'are')} up to ${is} long${joined}, over ${most}: use 3/4 in tubing, or feed ${agree(count, 'it', 'them')} nearer to the middle.`,
      refs: runs.map(({ id }) => ({ table: 'runs', id }) as const),
      source,
      fix: wider(runs.map(({ id }) => id)),
    });
  }
  const full = half
    .map(({ run, boreMm }) => {
      const velocityMs = results.runs.get(run.id)?.maxVelocityMs ?? 0;
      return { run, flowLph: velocityMs * (Math.PI / 4) * (boreMm / 1000) ** 2 * 3.6e6 };
    })
    .filter(({ flowLph }) => isAbove(flowLph, mostLph));
  if (full.length > 0) {
    const flowLph = Math.max(...full.map((one) => one.flowLph));
    const [passes, most] = twoFigures('outletFlow', flowLph, mostLph, units);
    const count = full.length;
    const ids = full.map(({ run }) => run.id);
    notices.push({
      rule: 'blank-run-flow',
      severity: 'warning',
      message: `${agree(count, 'Run', 'Runs')} ${listed(full.map(({ run }) => called(run)))} of 1/2 in tubing ${agree(count, 'carries', 'carry')} up to ${passes}, over ${most}: use 3/4 in tubing, or divide what ${agree(count, 'it feeds', 'they feed')}.`,
      refs: ids.map((id) => ({ table: 'runs', id }) as const),
      source,
      fix: wider(ids),
    });
  }
  return notices;
};

/** Runs of these that go on one in another, where nothing else joins; in the order in which they begin. */
function endToEnd(runs: readonly Run[], { network, pieces }: PlanNetwork): Run[][] {
  const own = new Map(runs.map((run, i) => [run.id, i]));
  const joined = new Int32Array(network.nodes.count);
  const at = new Map<number, Set<number>>();
  pieces.forEach(({ owner }, link) => {
    const run = owner.table === 'runs' ? own.get(owner.id) : undefined;
    for (const node of [network.links.from[link]!, network.links.to[link]!]) {
      joined[node]! += 1;
      if (run === undefined) continue;
      const here = at.get(node);
      if (here) here.add(run);
      else at.set(node, new Set([run]));
    }
  });
  const chains = new UnionFind(runs.length);
  for (const [node, here] of at) {
    const [a, b] = here;
    if (joined[node] === 2 && a !== undefined && b !== undefined) chains.join(a, b);
  }
  const byRoot = new Map<number, Run[]>();
  runs.forEach((run, i) => {
    const root = chains.root(i);
    const list = byRoot.get(root);
    if (list) list.push(run);
    else byRoot.set(root, [run]);
  });
  return [...byRoot.values()];
}

function wider(ids: readonly string[]): Fix {
  return {
    label: 'Use 3/4 in tubing',
    changes: [{ kind: 'set', table: 'runs', ids, fields: { tubing: 'blank-three-quarter' } }],
  };
}

export const blankRunRule: Rule = {
  number: 14,
  title: 'Length and flow of 1/2 in tubing',
  says: ['blank-run-long', 'blank-run-flow'],
  severity: 'warning',
  limits: [LENGTH, FLOW],
  source,
  check: blankRun,
};
