import { pathLength } from '../../base/polyline.ts';
import type { Problem } from '../../base/result.ts';
import type { Fill, Plan } from '../../plan/records.ts';
import type { NewRun } from '../rows/index.ts';
import { Changes, sameChoices, type Stale } from './changes.ts';
import { layFill, type LedFill } from './lay.ts';
import { fedIds } from './fed.ts';
import { entryOf, NO_LEADS } from './lead.ts';
import { nearestOf, runsOf } from './places.ts';
import { relaid } from './relay.ts';

/** Why a fill no longer follows its bed or tree. */
export type FollowNote = { readonly fill: Fill; readonly name: string } & (
  { readonly kind: 'by-hand' } | { readonly kind: 'failed'; readonly problem: Problem }
);

export interface Followed {
  readonly plan: Plan;
  readonly notes: readonly FollowNote[];
}

/**
 * While a gesture lasts fills are laid anew up to so many emitters together, in the order of the plan; those beyond are
 * laid at its end. Straight rows of 12,000 emitters take some 2 ms; the other patterns take longer and count for more,
 * and none counts for less than `LEAST_COUNTED`.
 */
export const MOST_WHILE_DRAGGED = 12_000;
const COUNTS_FOR = { straight: 1, loops: 8, curved: 40, tree: 8 } as const;
const LEAST_COUNTED = 1200;

/** Tables that a fill is drawn for, with those of the fills themselves. */
const HEEDED = [
  'fills',
  'areas',
  'levels',
  'falls',
  'plants',
  'controls',
  'heads',
  'supplies',
  'runs',
] as const;

/**
 * The plan after an edit, with the rows of every fill laid anew where what they were drawn for has changed: the shape of
 * the bed or the place and canopy of the tree, what is left out, the ground under it, where its water comes from, its own
 * choices. A fill whose runs were changed otherwise is marked as changed by hand, and so is one that cannot be laid: its
 * runs stay. Pure; tables that an edit left alone cost nothing.
 */
export function followed(before: Plan, after: Plan): Plan {
  return follow(before, after).plan;
}

/** As `followed`, with what is to be told. `drafted`: while a gesture lasts, see `MOST_WHILE_DRAGGED`. */
export function follow(before: Plan, after: Plan, { drafted = false } = {}): Followed {
  const isAlone = HEEDED.every((table) => before[table] === after[table]);
  if (after.fills.size === 0 || isAlone) return { plan: after, notes: [] };
  const changes = new Changes(before, after);
  const notes: FollowNote[] = [];
  let plan = after;
  let left = MOST_WHILE_DRAGGED;
  for (const fill of after.fills) {
    const stale = staleOf(changes, fill, drafted);
    if (stale === null) {
      if (isHandled(changes, fill)) {
        plan = byHand(plan, fill);
        notes.push({ kind: 'by-hand', fill, name: nameOf(plan, fill) });
      }
      continue;
    }
    if (drafted) {
      // A new fill was laid just now, and the way of a lead can wait.
      if (stale === 'lead' || !before.fills.has(fill.id)) continue;
      left -= countedFor(after, fill);
      if (left < 0) continue;
    }
    const wantsLead = fill.leadIds !== undefined || needsLead(changes, fill);
    const keep = !drafted && stale === 'rows' && staysLed(changes, fill) ? leadsOf(plan, fill) : [];
    const laid = layFill(plan, fill, { lead: wantsLead && !drafted, own: fill, keep, quiet: true });
    if (!laid.ok) {
      plan = byHand(plan, fill);
      notes.push({ kind: 'failed', fill, name: nameOf(plan, fill), problem: laid.problem });
      continue;
    }
    const value = drafted && wantsLead ? withOldLeads(plan, fill, laid.value) : laid.value;
    plan = relaid(plan, fill, value, wantsLead);
  }
  return { plan: drafted ? plan : withWaterBack(changes, plan), notes };
}

/**
 * Fills that want their water led to them and have lost it, because that on which their lead began is gone, or that had
 * none while a control set came: their leads are laid anew.
 */
function withWaterBack(changes: Changes, plan: Plan): Plan {
  const { before, watersChanged } = changes;
  if (before.runs === plan.runs && !watersChanged) return plan;
  let next = plan;
  for (const { id } of plan.fills) {
    const fill = next.fills.get(id)!;
    if (fill.byHand || fill.leadIds === undefined || isFed(next, fill)) continue;
    const was = before.fills.get(id);
    if (!watersChanged && was && !isFed(before, was)) continue;
    const laid = layFill(next, fill, { lead: true, own: fill, quiet: true });
    if (laid.ok) next = relaid(next, fill, laid.value, true);
  }
  return next;
}

function isFed(plan: Plan, { runIds }: Fill): boolean {
  const fed = fedIds(plan);
  return runIds.every((id) => fed.has(id));
}

/** Whether nothing but its own rows can make the leads of a fill move. */
function staysLed(changes: Changes, fill: Fill): boolean {
  const was = changes.before.fills.get(fill.id);
  return !was?.byHand && (!was || samePlace(was, fill)) && !changes.leadMoves(fill);
}

const leadsOf = (plan: Plan, { leadIds }: Fill) => (leadIds ?? []).flatMap((id) => plan.runs.get(id) ?? []);

function staleOf(changes: Changes, fill: Fill, drafted: boolean): Stale | null {
  if (fill.byHand) return null;
  const was = changes.before.fills.get(fill.id);
  if (!was || was.byHand || !samePlace(was, fill)) return 'rows';
  if (!sameChoices(was.choices, fill.choices)) return 'rows';
  if ((was.leadIds === undefined) !== (fill.leadIds === undefined)) return 'rows';
  return changes.staleOf(fill, drafted);
}

/** Whether a control set stood on rows that were not led to: the way from it is to be kept. */
function needsLead(changes: Changes, fill: Fill): boolean {
  const was = changes.before.fills.get(fill.id);
  return was !== undefined && was.leadIds === undefined && changes.stoodOn(was);
}

function isHandled(changes: Changes, fill: Fill): boolean {
  const was = changes.before.fills.get(fill.id);
  return was !== undefined && !was.byHand && !fill.byHand && changes.runsChanged(fill);
}

function samePlace(a: Fill, b: Fill): boolean {
  return a.kind === 'bed'
    ? b.kind === 'bed' && a.areaId === b.areaId
    : b.kind === 'tree' && a.plantId === b.plantId;
}

const byHand = (plan: Plan, fill: Fill): Plan => ({
  ...plan,
  fills: plan.fills.with({ ...fill, byHand: true }),
});

/** For people: the bed or tree. */
function nameOf(plan: Plan, fill: Fill): string {
  const place = fill.kind === 'bed' ? plan.areas.get(fill.areaId) : plan.plants.get(fill.plantId);
  return place ? place.name.trim() || place.id : fill.id;
}

/** About how many emitters a fill has, by the length of its runs in plan, weighed by what its pattern takes. */
function countedFor(plan: Plan, fill: Fill): number {
  const emitters = runsOf(plan, fill).reduce(
    (sum, { path, inline }) => sum + (inline ? pathLength(path) / inline.spacingM : 0),
    0,
  );
  const weight = COUNTS_FOR[fill.kind === 'tree' ? 'tree' : fill.choices.pattern];
  return Math.max(LEAST_COUNTED, emitters * weight);
}

/** While a gesture lasts leads keep their way and only reach for the new starts. */
function withOldLeads(plan: Plan, { leadIds }: Fill, laid: LedFill): LedFill {
  const runs = (leadIds ?? []).flatMap((id): NewRun[] => {
    const run = plan.runs.get(id);
    const from = run?.path.at(-2);
    const entries = from ? laid.starts.map((start) => entryOf(laid.runs, start, from)) : [];
    const start = run && nearestOf(entries, run.path.at(-1)!);
    return run && start ? [{ ...run, path: [...run.path.slice(0, -1), start] }] : [];
  });
  return { ...laid, runs: [...laid.runs, ...runs], leads: { ...NO_LEADS, runs } };
}
