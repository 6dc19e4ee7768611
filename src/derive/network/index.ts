import { memo } from '../../base/memo.ts';
import type { ControlSet, Plan, Supply } from '../../plan/records.ts';
import { groundOf } from '../ground/index.ts';
import type { PlanNetwork } from '../results.ts';
import { assemble } from './assemble.ts';
import { connect } from './connect.ts';
import { linesOf } from './lines.ts';
import { called, Notices } from './notices.ts';

export { JOIN_WITHIN } from './touching.ts';

/**
 * The hydraulic network of a plan, with the way back to what is drawn. Parts join where an end or a vertex of one
 * lies on another within 10 mm; runs and existing laterals join only through a control set, or past one. Nothing is
 * thrown: what cannot be used is named in the notices and left out. Remembered while the tables that it reads are the
 * same.
 */
export function buildPlanNetwork(plan: Plan): PlanNetwork {
  return remembered(
    plan.levels,
    plan.supplies,
    plan.heads,
    plan.laterals,
    plan.controls,
    plan.runs,
    plan.emitters,
    plan.water,
  );
}

type Read = Pick<
  Plan,
  'levels' | 'supplies' | 'heads' | 'laterals' | 'controls' | 'runs' | 'emitters' | 'water'
>;

const remembered = memo(
  (
    levels: Plan['levels'],
    supplies: Plan['supplies'],
    heads: Plan['heads'],
    laterals: Plan['laterals'],
    controls: Plan['controls'],
    runs: Plan['runs'],
    emitters: Plan['emitters'],
    water: Plan['water'],
  ): PlanNetwork => build({ levels, supplies, heads, laterals, controls, runs, emitters, water }),
);

function build(plan: Read): PlanNetwork {
  const notices = new Notices();
  const ground = groundOf(plan.levels);
  const lines = linesOf(plan, ground, notices);
  const supplies = placed(plan.supplies, 'supplies', notices);
  const controls = placed(plan.controls, 'controls', notices);
  const connection = connect(lines, supplies, controls, notices);
  tellKeptHeads(plan, notices);
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

function tellKeptHeads(plan: Read, notices: Notices): void {
  const kept = [...plan.heads].filter((head) => head.fate === 'keep');
  if (kept.length === 0) return;
  notices.add(
    'heads-kept',
    'info',
    `${kept.length} spray head(s) are to be kept. Their flow is not computed here; sprays and drip do not belong on one valve.`,
    ...kept.map((head) => ({ table: 'heads', id: head.id }) as const),
  );
}

function tellApart(plan: Read, { outlets, parts }: PlanNetwork, notices: Notices): void {
  const apart = new Set(parts.apartRuns);
  const counts = new Map<string, number>();
  for (const { runId } of outlets) if (apart.has(runId)) counts.set(runId, (counts.get(runId) ?? 0) + 1);
  for (const [runId, count] of counts) {
    const run = plan.runs.get(runId)!;
    notices.add(
      'run-apart',
      'error',
      `Run ${called(run)} with ${count} outlet(s) is not connected to a supply: join an end to a control set or to another run.`,
      { table: 'runs', id: runId },
    );
  }
}
