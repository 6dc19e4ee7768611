import { memo } from '../../../base/memo.ts';
import type { UnitSystem } from '../../../base/units.ts';
import type { Head, LateralPipe, Plan } from '../../../plan/records.ts';
import { groundOf } from '../../ground/index.ts';
import { Notices } from '../../network/notices.ts';
import type { Notice } from '../../results.ts';
import { expectedDripFlow } from '../expected-drip.ts';
import { alikeButFate, steadyTable } from '../steady-table.ts';
import { bedsOfZone } from './beds.ts';
import { buildGraph } from './build-graph.ts';
import { MOST_PIECES_FOR_PAIRS, Weigher, type Scene } from './candidates.ts';
import { Describer, knownVolume } from './describe.ts';
import { LEVEL_TOLERANCE_M } from './draining.ts';
import type { PipeGraph } from './graph.ts';
import { staysSpray } from './stays-spray.ts';
import { jointsOf, type Joint } from './joints.ts';
import { pipePressure } from './pressure.ts';
import { isFrostFree } from './rank.ts';
import { shapeOf, type Shape } from './shape.ts';
import type { ZoneTieIns } from './tie-in.ts';
import { MOST_RINGS, waysOf } from './ways.ts';
import { whyOf } from './why.ts';
import { zonesOfPlan } from './zone-parts.ts';

export { tieInEdits } from './edits.ts';
export type { Joint, JointKind, PipeEnd } from './joints.ts';
export type { Shape, ShapeKind } from './shape.ts';
export type { DeadLeg, RecordSplit, TieIn, TieInPlace, ZoneTieIns } from './tie-in.ts';
export type { LegAction, LegLies } from './legs.ts';
export type { Barred, CostTerms } from './rank.ts';
export { CUT_LENGTH_M, CUT_VOLUME_L, LEG_SOURCE, WARN_LENGTH_M, WARN_VOLUME_L } from './legs.ts';

/** The old lateral of one zone. */
export interface ZoneLateral {
  readonly zone: string | null;
  readonly supplyId: string | null;
  readonly shape: Shape;
  readonly joints: readonly Joint[];
  /** On the ground, m. */
  readonly lengthM: number;
  /** `null` where there is pipe and no bore is known; pipe of unknown bore is not in it. */
  readonly volumeL: number | null;
  readonly unknownBoreM: number;
  /** Heads that stand on no pipe of the zone. */
  readonly looseHeads: readonly string[];
  readonly notices: readonly Notice[];
}

/** What tie-ins are worked out with. */
export interface TieInOptions {
  /** System in which sentences show their figures. */
  readonly units?: UnitSystem;
  /** Flow of the drip to reckon with in a zone, L/h; the higher expected flow unless told. */
  readonly dripFlowLph?: (zone: string | null) => number;
}

/** The old laterals of a plan by zone, in the natural order of the zones. Remembered for the same tables. */
export function lateralsOf(plan: Plan): ZoneLateral[] {
  return graphsOf(plan).map(lateral);
}

const lateral = (graph: PipeGraph): ZoneLateral => {
  const known = described.get(graph);
  if (known) return known;
  const made: ZoneLateral = {
    zone: graph.zone,
    supplyId: graph.supplyId,
    shape: shapeOf(graph),
    joints: jointsOf(graph),
    lengthM: graph.edges.reduce((sum, { lengthM }) => sum + lengthM, 0),
    volumeL: knownVolume(graph.edges),
    unknownBoreM: graph.edges.reduce((sum, edge) => sum + (edge.volumeL === null ? edge.lengthM : 0), 0),
    looseHeads: graph.looseHeads.map(({ id }) => id),
    notices: graph.notices,
  };
  described.set(graph, made);
  return made;
};
const described = new WeakMap<PipeGraph, ZoneLateral>();

/** Of fates only that matters whether a head is kept as a spray: choosing a tie-in then leaves the graphs as they are. */
function graphsOf({ laterals, heads, supplies, levels, falls }: Plan): PipeGraph[] {
  return graphs(steadyLaterals(laterals), steadyHeads(heads), supplies, levels, falls);
}
const steadyLaterals = steadyTable<LateralPipe>(alikeButFate);
const steadyHeads = steadyTable<Head>(
  (a, b) => (a.fate === 'keep') === (b.fate === 'keep') && alikeButFate(a, b),
);

const graphs = memo(
  (
    laterals: Plan['laterals'],
    heads: Plan['heads'],
    supplies: Plan['supplies'],
    levels: Plan['levels'],
    falls: Plan['falls'],
  ): PipeGraph[] => {
    const ground = groundOf({ levels, falls });
    const { zones, notices } = zonesOfPlan({ laterals, heads, supplies });
    return zones.map((parts, i) => {
      const graph = buildGraph(parts, ground);
      return i === 0 ? { ...graph, notices: [...notices, ...graph.notices] } : graph;
    });
  },
);

/**
 * All tie-ins of each zone, ranked, best first (see `rank.ts` for the order and its weights): every joint of the old
 * pipes that the valve reaches, the valve itself as a new start, and the best pair of all pairs. Every single and
 * every pair is weighed with every way to open the rings, but for nets of more than 200 pieces (pairs of ends only)
 * or of more than four rings (shortest ways only), which is said. Remembered for the same tables and options.
 */
export function tieInsOf(plan: Plan, options: TieInOptions = {}): ZoneTieIns[] {
  const { supplies, areas, water, climate } = plan;
  const found = graphsOf(plan);
  const flow = options.dripFlowLph ?? ((zone) => expectedDripFlow(plan, zone)?.highLph ?? 0);
  const flows = found.map(({ zone }) => flow(zone));
  return ranked(found, supplies, areas, water, climate.lowestWinterC, options.units ?? 'us', flows.join());
}

const ranked = memo(
  (
    found: readonly PipeGraph[],
    supplies: Plan['supplies'],
    areas: Plan['areas'],
    water: Plan['water'],
    lowestWinterC: number | null,
    units: UnitSystem,
    flows: string,
  ): ZoneTieIns[] =>
    found.map((graph, i) => {
      const supply = graph.supplyId === null ? undefined : supplies.get(graph.supplyId);
      const flowLph = Number(flows.split(',')[i]);
      return rankedZone(graph, areas, {
        graph,
        ways: waysOf(graph),
        beds: bedsOfZone(graph, areas),
        pressure: pipePressure(graph, water, supply, Number.isFinite(flowLph) ? Math.max(0, flowLph) : 0),
        frostFree: isFrostFree(lowestWinterC),
        units,
      });
    }),
);

function rankedZone(
  graph: PipeGraph,
  areas: Plan['areas'],
  scene: Scene & { readonly units: UnitSystem },
): ZoneTieIns {
  if (graph.heads.length > 0 && graph.heads.every(staysSpray)) return allStays(graph);
  const weigher = new Weigher(scene);
  const { singles, pair, pairCount, endsOnly } = weigher.all();
  const order = [...singles, ...(pair ? [pair] : [])].sort(weigher.compare);
  const describer = new Describer(scene, weigher);
  const told = order.map((candidate) => describer.describe(candidate));
  const bestSingle = told.find(({ places }) => places.length === 1);
  const telling = {
    units: scene.units,
    bedName: (id: string) => areas.get(id)?.name || id,
    isLevel: isLevel(graph),
    lastKnown: lastKnown(graph),
  };
  const candidates = told.map((tieIn, i) => ({
    ...tieIn,
    rank: i + 1,
    why: whyOf(tieIn, { ...telling, best: told[0]!, bestSingle: bestSingle! }),
  }));
  return {
    zone: graph.zone,
    supplyId: graph.supplyId,
    candidates,
    evaluated: { singles: singles.length, pairs: pairCount },
    notices: [...graph.notices, ...limitNotices(graph, scene, endsOnly)],
  };
}

function isLevel({ nodes, edges }: PipeGraph): boolean {
  let [low, high] = [Infinity, -Infinity];
  for (const z of [...nodes.map(({ zM }) => zM), ...edges.flatMap(({ zM }) => zM)]) {
    low = Math.min(low, z);
    high = Math.max(high, z);
  }
  return high - low <= LEVEL_TOLERANCE_M;
}

/** Names of joints where known pipe goes over into assumed pipe. */
function lastKnown({ nodes, edges }: PipeGraph): ReadonlySet<string> {
  const at = nodes.filter((node) => node.edges.some((e) => !edges[e]!.measured));
  return new Set(at.map(({ name }) => name));
}

/** A zone that goes on spraying has no tie-in. */
function allStays(graph: PipeGraph): ZoneTieIns {
  const notices = new Notices();
  const zone = graph.zone === null ? 'this valve' : `zone ${graph.zone}`;
  notices.add(
    'tie-in-all-stays-spray',
    'info',
    `All heads of ${zone} water lawn or are to be kept: drip does not tie in here.`,
    ...graph.heads.map(({ id }) => ({ table: 'heads', id }) as const),
  );
  return {
    zone: graph.zone,
    supplyId: graph.supplyId,
    candidates: [],
    evaluated: { singles: 0, pairs: 0 },
    notices: [...graph.notices, ...notices.all()],
  };
}

function limitNotices(graph: PipeGraph, { ways }: Scene, endsOnly: boolean): readonly Notice[] {
  const notices = new Notices();
  const where = graph.zone === null ? 'The old lateral' : `The old lateral of zone ${graph.zone}`;
  if (endsOnly) {
    notices.add(
      'tie-in-pairs-of-ends',
      'info',
      `${where} has more than ${MOST_PIECES_FOR_PAIRS} pieces: two tie-ins are looked for among its ends only.`,
    );
  }
  if (!ways.all) {
    notices.add(
      'tie-in-many-rings',
      'warning',
      `${where} has ${ways.rings} rings, too many to try each opening (up to ${MOST_RINGS} are tried): tie-ins are judged by their shortest way from the valve.`,
    );
  }
  return notices.all();
}
