import { good, type Result } from '../../base/result.ts';
import { Table } from '../../base/table.ts';
import { tubingById } from '../../catalog/index.ts';
import { litresIn } from '../../derive/existing/index.ts';
import { groundOf } from '../../derive/ground/index.ts';
import type { Fill, Plan, Run } from '../../plan/records.ts';
import { fillBed, type Filled, type FilledPlace } from '../rows/index.ts';
import { ringsRound } from '../rings/index.ts';
import { keptLeads } from './kept-leads.ts';
import { feedingRuns, leadsTo, NO_LEADS, type Leads } from './lead.ts';

const NO_RUNS: Plan['runs'] = Table.of([]);

/** A fill with the tubing that leads water to it: the last of its `runs`. */
export interface LedFill extends Filled {
  readonly leads: Leads;
}

/**
 * Rows of a bed or rings round a tree, as `fillBed` and `ringsRound` lay them, with leads from the nearest control set
 * or tie-in where those are asked for, or from the control set that the place names. `own` is the fill that is on the
 * plan already: its runs count as gone. Fails as those two do.
 */
export function layFill(
  plan: Plan,
  place: FilledPlace,
  {
    lead,
    own = null,
    keep = [],
    quiet = false,
  }: {
    readonly lead: boolean;
    readonly own?: { readonly id: string; readonly runIds: readonly string[] } | null;
    /** Leads that stay as they are where they still bring water to every part of it. */
    readonly keep?: readonly Run[];
    /**
     * Only the geometry: without notes on limits, which take longer than the rows, and with names that do not look at
     * those of other runs.
     */
    readonly quiet?: boolean;
  },
): Result<LedFill> {
  const bare = (): Plan =>
    own && own.runIds.length ? { ...plan, runs: plan.runs.without(own.runIds) } : plan;
  // Rows begin at the end that is nearest to the water that is asked for.
  const asked = place.leadFrom === undefined ? undefined : plan.controls.get(place.leadFrom);
  const controls = asked ? Table.of([asked]) : plan.controls;
  const on = { ...(quiet ? { ...plan, runs: NO_RUNS } : bare()), controls };
  const laid =
    place.kind === 'bed'
      ? fillBed(on, place.areaId, place.choices, { quiet })
      : ringsRound(on, place.plantId, place.choices, { quiet });
  if (!laid.ok) return laid;
  if (!lead) return good({ ...laid.value, leads: NO_LEADS });
  const others = bare();
  const feeding = feedingRuns(others, own?.id ?? null);
  const tubing = place.choices.headerTubing;
  const leads =
    keptLeads(others, laid.value, keep, feeding, place.leadFrom, tubing) ??
    leadsTo(others, laid.value, tubing, feeding, place);
  return good(withLeads(plan, laid.value, leads));
}

/** A fill of the plan as it lies there, to be told of: with the leads that it has, where they lead to it. */
export function laidAsItIs(plan: Plan, fill: Fill): Result<LedFill> {
  const keep = (fill.leadIds ?? []).flatMap((id) => plan.runs.get(id) ?? []);
  return layFill(plan, fill, { lead: fill.leadIds !== undefined, own: fill, keep });
}

/** The fill with its leads among its runs and figures. */
function withLeads(plan: Plan, filled: Filled, leads: Leads): LedFill {
  const ground = groundOf(plan);
  const lengths = leads.runs.map(({ path }) => ground.surfaceLength(path));
  const litres = leads.runs.map(({ tubing }, i) =>
    litresIn(tubingById(tubing)?.innerDiameterMm ?? 0, lengths[i]!),
  );
  const sum = (list: readonly number[]): number => list.reduce((total, one) => total + one, 0);
  const { figures } = filled;
  return {
    ...filled,
    runs: [...filled.runs, ...leads.runs],
    figures: {
      ...figures,
      headerLengthM: figures.headerLengthM + sum(lengths),
      volumeL: figures.volumeL + sum(litres),
    },
    leads,
  };
}
