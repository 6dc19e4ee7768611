import { FILTERS, filterById, fittingById, REGULATORS, regulatorById } from '../../catalog/index.ts';
import { GRAVITY_MS2, kpaToHead } from '../../hydraulics/index.ts';
import type { Network, Outlets } from '../../hydraulics/network.ts';
import type { Plan } from '../../plan/records.ts';
import { buildPlanNetwork } from '../network/index.ts';
import { squareCurve } from '../network/supply-curve.ts';
import type { Notice, PlacedFlushEnd, PlanNetwork } from '../results.ts';
import { counted } from '../wording.ts';
import { scenarioKey, type Scenario } from './scenario.ts';

/** A plan's network in another state; solved and read like the usual one. */
export interface ScenarioNetwork extends PlanNetwork {
  readonly scenario: Scenario;
  /** Flush ends that are open, each with the index of its outlet in the network, past those of the plan. */
  readonly openEnds: readonly { readonly flushEnd: PlacedFlushEnd; readonly outlet: number }[];
  /** By outlet of the plan: whether it is closed. */
  readonly isClosed: (outlet: number) => boolean;
}

const known = new WeakMap<PlanNetwork, Map<string, ScenarioNetwork>>();
/** Networks kept for one plan: a few states are looked at in turn. */
const MOST_KEPT = 24;

/**
 * The network of a plan in a state. Remembered by the plan's network and the value of the scenario. A state that the
 * plan does not allow (no lowest pressure known, no flush end) is told in the notices and gives the usual network.
 */
export function networkFor(plan: Plan, scenario: Scenario): ScenarioNetwork {
  const base = buildPlanNetwork(plan);
  let kept = known.get(base);
  if (!kept) known.set(base, (kept = new Map<string, ScenarioNetwork>()));
  // Control sets and water are among the tables that the base was built from, so the key tells all.
  const key = scenarioKey(scenario);
  const before = kept.get(key);
  if (before) return before;
  if (kept.size >= MOST_KEPT) kept.clear();
  const built = build(plan, base, scenario);
  kept.set(key, built);
  return built;
}

function build(plan: Plan, base: PlanNetwork, scenario: Scenario): ScenarioNetwork {
  const usual: ScenarioNetwork = { ...base, scenario, openEnds: [], isClosed: () => false };
  const { network } = base;
  switch (scenario.kind) {
    case 'running':
      return usual;
    case 'static':
      return {
        ...usual,
        network: withOutletsShut(withCreep(plan, base), () => true),
        isClosed: () => true,
      };
    case 'clogged': {
      const share = Math.min(1, Math.max(0, scenario.share)) || 0;
      const isClosed = (i: number): boolean =>
        Math.floor((i + 1) * share + EVEN) > Math.floor(i * share + EVEN);
      return { ...usual, network: withOutletsShut(network, isClosed), isClosed };
    }
    case 'dirty-filter':
      return { ...usual, network: withDirtyFilters(plan, base) };
    case 'low-supply':
      return lowSupply(plan, usual);
    case 'flushing':
      return flushing(usual, scenario.open);
  }
}

/** Keeps rounding from moving a closed outlet by one. */
const EVEN = 1e-9;

/** The same network with some outlets that give nothing at any pressure. */
function withOutletsShut(network: Network, isShut: (outlet: number) => boolean): Network {
  const openShare = Float64Array.from({ length: network.outlets.count }, (_, i) => (isShut(i) ? 0 : 1));
  return { ...network, outlets: { ...network.outlets, openShare } };
}

/** Regulators let their outlet creep above the setting once nothing flows. */
function withCreep(plan: Plan, { network, parts }: PlanNetwork): Network {
  const settingM = network.links.settingM.slice();
  for (const placed of parts.controls) {
    settingM[placed.regulatorLink]! *= 1 + creepShareOf(plan, placed.id);
  }
  return { ...network, links: { ...network.links, settingM } };
}

/** How far a control set's regulator creeps at no flow, as a share of its setting. */
export function creepShareOf(plan: Pick<Plan, 'controls'>, controlId: string): number {
  const id = plan.controls.get(controlId)?.regulator ?? '';
  return (regulatorById(id) ?? REGULATORS[0]!).creepShare;
}

function withDirtyFilters(plan: Plan, { network, parts }: PlanNetwork): Network {
  const curves = network.curves.slice();
  for (const { id, filterLink } of parts.controls) {
    const filter = filterById(plan.controls.get(id)?.filter ?? '') ?? FILTERS[0]!;
    curves[network.links.curve[filterLink]!] = squareCurve(filter.ratedFlowLph, filter.dirtyLossKpa);
  }
  return { ...network, curves };
}

function lowSupply(plan: Plan, usual: ScenarioNetwork): ScenarioNetwork {
  const { lowStaticKpa, staticKpa } = plan.water;
  if (lowStaticKpa === null) {
    const notice: Notice = {
      rule: 'low-static-unknown',
      severity: 'info',
      message:
        'The lowest static pressure of the service is not known: read the gauge at the time of most use, and type it in Survey under Water service.',
      refs: [],
    };
    return { ...usual, notices: [...usual.notices, notice] };
  }
  const { network, parts } = usual;
  const fixedHeadM = network.nodes.fixedHeadM.slice();
  for (const { source, staticKpa: ownKpa } of parts.supplies) {
    if (source < 0 || ownKpa === null) continue;
    // A valve with a static pressure of its own falls by as much as the service does.
    const lowKpa = staticKpa === null ? lowStaticKpa : ownKpa - (staticKpa - lowStaticKpa);
    fixedHeadM[source] = network.nodes.elevationM[source]! + kpaToHead(Math.min(ownKpa, lowKpa));
  }
  return { ...usual, network: { ...network, nodes: { ...network.nodes, fixedHeadM } } };
}

/** Opens flush ends: q = A sqrt(2 g h / K), the full bore of the tubing against the loss of its exit. */
function flushing(usual: ScenarioNetwork, open: readonly string[]): ScenarioNetwork {
  const { network, parts } = usual;
  const ids = new Set(open);
  const ends = parts.flushEnds.filter(({ id }) => ids.has(id));
  const missing = open.filter((id) => !parts.flushEnds.some((flushEnd) => flushEnd.id === id));
  const notices = [...usual.notices];
  if (missing.length > 0) {
    notices.push({
      rule: 'flush-end-unknown',
      severity: 'warning',
      message: `${counted(missing.length, 'flush end')} of those to be opened (${missing.slice(0, 5).join(', ')}) ${missing.length === 1 ? 'is' : 'are'} not on the plan and ${missing.length === 1 ? 'stays' : 'stay'} shut.`,
      refs: [],
    });
  }
  if (ends.length === 0) return { ...usual, notices };
  const exitK = fittingById('exit').lossK;
  const areaM2 = ({ link }: PlacedFlushEnd): number => (Math.PI / 4) * network.links.boreM[link]! ** 2;
  const old = network.outlets;
  const fill = (value: number): Float64Array => new Float64Array(ends.length).fill(value);
  const outlets: Outlets = {
    ...old,
    count: old.count + ends.length,
    node: Int32Array.from([...old.node, ...ends.map(({ node }) => node)]),
    coefficient: joined(
      old.coefficient,
      Float64Array.from(ends, (end) => areaM2(end) * Math.sqrt((2 * GRAVITY_MS2) / exitK)),
    ),
    exponent: joined(old.exponent, fill(0.5)),
    ratedM3s: joined(old.ratedM3s, fill(NaN)),
    rangeFromM: joined(old.rangeFromM, fill(NaN)),
    residualExponent: joined(old.residualExponent, fill(0)),
    riseM: joined(old.riseM, fill(0)),
    ...(old.closingM ? { closingM: joined(old.closingM, fill(NaN)) } : {}),
  };
  return {
    ...usual,
    network: { ...network, outlets },
    openEnds: ends.map((flushEnd, k) => ({ flushEnd, outlet: old.count + k })),
    notices,
  };
}

function joined(a: Float64Array, b: Float64Array): Float64Array {
  const all = new Float64Array(a.length + b.length);
  all.set(a);
  all.set(b, a.length);
  return all;
}
