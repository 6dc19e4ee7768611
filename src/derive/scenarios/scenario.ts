/** A state of the system other than the usual one, to be solved apart. */
export type Scenario =
  | { readonly kind: 'running' }
  /** All outlets shut: what stands on the parts while nothing flows, with the creep of the regulators. */
  | { readonly kind: 'static' }
  /** The flush ends with these ids open to the air, the outlets running. */
  | { readonly kind: 'flushing'; readonly open: readonly string[] }
  /** A share of the outlets closed, from 0 to 1, spread evenly. */
  | { readonly kind: 'clogged'; readonly share: number }
  /** Filters due for cleaning. */
  | { readonly kind: 'dirty-filter' }
  /** The lowest static pressure of the service. */
  | { readonly kind: 'low-supply' };

export type ScenarioKind = Scenario['kind'];
export const SCENARIO_KINDS: readonly ScenarioKind[] = [
  'running',
  'static',
  'flushing',
  'clogged',
  'dirty-filter',
  'low-supply',
];

/** The same for equal scenarios, so that answers can be kept by it. */
export function scenarioKey(scenario: Scenario): string {
  if (scenario.kind === 'flushing') return JSON.stringify([scenario.kind, ...[...scenario.open].sort()]);
  return scenario.kind === 'clogged' ? `clogged/${scenario.share}` : scenario.kind;
}
