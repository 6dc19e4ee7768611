import type { QuantityKind, UnitSystem } from '../../base/quantity.ts';
import type { Plan } from '../../plan/records.ts';
import type { Notice, PlanNetwork, Results } from '../results.ts';

/** A figure that a rule holds things against; a plan may have its own (`plan.checks.limits`, by key). */
export interface Limit {
  /** Its name among all limits of all rules, such as `feeder-long.warning`. */
  readonly key: string;
  /** What it limits, as a field is labelled. */
  readonly label: string;
  /** How it is typed and shown; inside it is in that kind's inside unit (percent, degrees, counts and factors as they are). */
  readonly kind: QuantityKind;
  readonly usual: number;
  readonly least: number;
  readonly most: number;
  readonly source: string;
}

/** All that a rule may look at. The plan may be newer than the network and the results. */
export interface CheckInput {
  readonly plan: Plan;
  readonly planNetwork: PlanNetwork;
  readonly results: Results;
  readonly units: UnitSystem;
  /** The figure that holds for this plan: its own, else the usual one. */
  limit(limit: Limit): number;
}

/** What a rule finds, nothing where all is well. */
export type Check = (input: CheckInput) => Notice[];

/** One rule of design with all that a person may want to know of it. */
export interface Rule {
  /** Its place in the list of forty design checks (docs/checks.md); null for one beyond them. */
  readonly number: number | null;
  /** What it looks at, in a few words, for lists. */
  readonly title: string;
  /** The `rule` of every notice that it may give. */
  readonly says: readonly string[];
  /** The worst that it may say. */
  readonly severity: Notice['severity'];
  readonly limits: readonly Limit[];
  /** Source of rule and limits where a notice has none of its own. */
  readonly source: string;
  readonly check: Check;
}

/**
 * Looks up the limits of a plan: its own, else the usual ones. One beyond what the limit may be, as only a file can
 * bring it, counts as the nearest that it may be; what is no number counts as not there.
 */
export function limitOf(plan: Pick<Plan, 'checks'>): CheckInput['limit'] {
  const { limits } = plan.checks;
  return ({ key, usual, least, most }) => {
    const own: unknown = Object.hasOwn(limits, key) ? limits[key] : undefined;
    return typeof own === 'number' && Number.isFinite(own) ? Math.min(Math.max(own, least), most) : usual;
  };
}
