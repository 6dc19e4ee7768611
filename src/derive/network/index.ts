import { memo } from '../../base/memo.ts';
import type { ControlSet, Plan, Run, Supply } from '../../plan/records.ts';
import { groundOf } from '../ground/index.ts';
import type { PlanNetwork } from '../results.ts';
import { UnionFind } from './union-find.ts';
import { assemble } from './assemble.ts';
import { connect } from './connect.ts';
import { linesOf } from './lines.ts';
import { called, Notices } from './notices.ts';
import { agree, counted, listed } from '../wording.ts';

/**
 * The hydraulic network of a plan, with the way back to what is drawn. Parts join where an end or a vertex of one
 * lies on another within 10 mm; runs and existing laterals join only through a control set, or past one. Nothing is
 * thrown: what cannot be used is named in the notices and left out. Remembered while the tables that it reads are the
 * same.
 */
export function buildPlanNetwork(plan: Plan): PlanNetwork {
  return remembered(
    plan.levels,
    plan.falls,
    plan.supplies,
    plan.laterals,
    plan.controls,
    plan.runs,
    plan.emitters,
    plan.water,
    plan.checkValves,
    plan.flushEnds,
  );
}

type Read = Pick<
  Plan,
  | 'levels'
  | 'falls'
  | 'supplies'
  | 'laterals'
  | 'controls'
  | 'runs'
  | 'emitters'
  | 'water'
  | 'checkValves'
  | 'flushEnds'
>;

const remembered = memo(
  (
    levels: Plan['levels'],
    falls: Plan['falls'],
    supplies: Plan['supplies'],
    laterals: Plan['laterals'],
    controls: Plan['controls'],
    runs: Plan['runs'],
    emitters: Plan['emitters'],
    water: Plan['water'],
    checkValves: Plan['checkValves'],
    flushEnds: Plan['flushEnds'],
  ): PlanNetwork =>
    build({ levels, falls, supplies, laterals, controls, runs, emitters, water, checkValves, flushEnds }),
);

function build(plan: Read): PlanNetwork {
  const notices = new Notices();
  const ground = groundOf(plan);
  const lines = linesOf(plan, ground, notices);
  const supplies = placed(plan.supplies, 'supplies', notices);
  const controls = placed(plan.controls, 'controls', notices);
  const connection = connect(lines, supplies, controls, notices);
  const built = assemble(plan, lines, supplies, controls, connection, ground, notices);
  tellApart(plan, built, notices);
  return built;
}

function placed<T extends Supply | ControlSet>(
  records: Iterable<T>,
  table: 'supplies' | 'controls',
  notices: Notices,
): T[] {
  return [...records].filter((record) => {
    if (record.at.every(Number.isFinite)) return true;
    notices.add(
      'part-without-place',
      'error',
      `${table === 'supplies' ? 'Supply' : 'Control set'} ${called(record)} has a place that is not a number and is left out: place it again.`,
      { table, id: record.id },
    );
    return false;
  });
}

/** More runs than this that hang together are told in one sentence. */
const MOST_TOLD_APART = 3;

/** Runs without a supply by what they hang together with. */
function hanging({ network, parts, runNodes }: PlanNetwork): string[][] {
  const { from, to, count } = network.links;
  const sets = new UnionFind(network.nodes.count);
  for (let link = 0; link < count; link++) sets.join(from[link]!, to[link]!);
  const groups = new Map<number, string[]>();
  for (const id of parts.apartRuns) {
    const node = runNodes.get(id)?.[0];
    const key = node === undefined ? -1 - groups.size : sets.root(node);
    const group = groups.get(key);
    if (group) group.push(id);
    else groups.set(key, [id]);
  }
  return [...groups.values()];
}

function tellApart(plan: Read, network: PlanNetwork, notices: Notices): void {
  const { outlets, parts } = network;
  if (parts.apartRuns.length === 0) return;
  const counts = new Map(parts.apartRuns.map((id) => [id, 0]));
  for (const { runId } of outlets) {
    const count = counts.get(runId);
    if (count !== undefined) counts.set(runId, count + 1);
  }
  const loose: Run[] = [];
  const together = new Set<string>();
  for (const group of hanging(network)) {
    const count = group.reduce((sum, id) => sum + counts.get(id)!, 0);
    if (group.length <= MOST_TOLD_APART || count === 0) continue;
    for (const id of group) together.add(id);
    const names = group.map((id) => called(plan.runs.get(id)!));
    notices.add(
      'run-apart',
      'error',
      `${group.length} runs with ${counted(count, 'outlet')}, joined to each other, are not connected to a supply: lead water to one of them from a control set (${listed(names, 3)}).`,
      ...group.map((id) => ({ table: 'runs', id }) as const),
    );
  }
  for (const [runId, count] of counts) {
    if (together.has(runId)) continue;
    const run = plan.runs.get(runId)!;
    if (count === 0) {
      loose.push(run);
      continue;
    }
    notices.add(
      'run-apart',
      'error',
      `Run ${called(run)} with ${counted(count, 'outlet')} is not connected to a supply: join an end to a control set or to another run.`,
      { table: 'runs', id: runId },
    );
  }
  if (loose.length === 0) return;
  notices.add(
    'run-loose',
    'warning',
    `${agree(loose.length, 'Run', 'Runs')} ${listed(loose.map(called))} ${agree(loose.length, 'is', 'are')} not joined to anything that carries water: join an end to a control set or to another run, or remove ${agree(loose.length, 'it', 'them')}.`,
    ...loose.map(({ id }) => ({ table: 'runs', id }) as const),
  );
}
