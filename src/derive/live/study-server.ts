import type { UnitSystem } from '../../base/quantity.ts';
import { solve, type Solution } from '../../hydraulics/index.ts';
import { emptyPlan } from '../../plan/empty.ts';
import { patched, planPatch, type PlanPatch } from '../../plan/patch.ts';
import type { Plan } from '../../plan/records.ts';
import { checkPlan } from '../checks/index.ts';
import { underLaw, type FrictionLaw } from '../network/friction-law.ts';
import { outletValues, withValue, type OutletValues } from '../outlet-values.ts';
import { readFigures } from '../read-results.ts';
import type { Notice, OutletResult, PlacedOutlet, Results } from '../results.ts';
import { readFlushing, type FlushedEnd } from '../scenarios/flushing.ts';
import { networkFor, type ScenarioNetwork } from '../scenarios/network-for.ts';
import type { Scenario } from '../scenarios/scenario.ts';
import { staticOf } from '../scenarios/static-pressures.ts';
import { outletFacts, outletsFrom, sameOutlets, type OutletFacts } from './outlet-columns.ts';
import { runColumns, runsFrom, type RunColumns } from './run-columns.ts';

/** What is to be studied. */
export interface StudyOrder {
  readonly plan: Plan;
  readonly scenario: Scenario;
  readonly friction: FrictionLaw;
  /** System in which notices show their figures. */
  readonly units: UnitSystem;
}

/** An order as it is posted: the plan as a patch on one that the server has. */
export interface StudyRequest extends Omit<StudyOrder, 'plan'> {
  /** Number of the plan that the patch is made on; 0 is the empty plan. */
  readonly since: number;
  /** Number of the plan after it, from 1. */
  readonly number: number;
  readonly patch: PlanPatch;
  /** Number of the outlet facts that the asker holds; 0 for none. */
  readonly factsHeld: number;
}

/** What stands on the parts while nothing flows, in figures. */
export interface Standing {
  readonly highestKpa: number;
  readonly outletsOver: number;
  readonly runsOver: number;
}

/** What follows from a solution besides the results: filled in the situations that ask for it. */
export interface SituationFigures {
  /** In the situation `flushing`: the open ends; else empty. */
  readonly flushed: readonly FlushedEnd[];
  /** In the situation `static`; else null. */
  readonly standing: Standing | null;
}

/** Results as columns, ready to be posted. */
export interface StudyReply extends SituationFigures {
  readonly factsNumber: number;
  /** Null where the asker holds them already. */
  readonly facts: OutletFacts | null;
  readonly values: OutletValues;
  readonly runs: RunColumns;
  readonly rest: Omit<Results, 'outlets' | 'runs'>;
}

/** The patch is made on a plan that the server does not have; ask again with the whole plan. */
export class OutOfStep extends Error {
  override readonly name = 'OutOfStep';
}

/** Studies a plan that it keeps a mirror of, brought up to date by patches. */
export interface StudyServer {
  /** Solves and reads the results. Throws `OutOfStep`, and what the calculation throws; the mirror is then up to date. */
  study(request: StudyRequest): StudyReply;
  /** Findings of all checks on what was studied last. */
  check(): Notice[];
}

interface Studied {
  readonly request: StudyRequest;
  readonly network: ScenarioNetwork;
  readonly values: OutletValues;
  readonly figures: Omit<Results, 'outlets'>;
  /** All of it, made when the checks ask for it: answers need no list of outlets. */
  results: Results | null;
}

export function createStudyServer(): StudyServer {
  let plan = emptyPlan();
  let number = 0;
  /** The last solution: the next network differs little from the last one while a person draws. */
  let start: Solution | null = null;
  let studied: Studied | null = null;
  let told: readonly PlacedOutlet[] | null = null;
  let factsNumber = 0;

  function studiedAs(request: StudyRequest, network: ScenarioNetwork): Studied {
    // The same network again, e.g. when a plant was moved or other units are shown.
    if (studied?.network === network) return { ...studied, request };
    const solution = solve(network.network, start);
    start = solution.converged ? solution : null;
    const values = outletValues(network, solution);
    return { request, network, values, figures: readFigures(network, solution, values), results: null };
  }

  /** What the asker needs of the outlets; null where it holds them all. */
  function factsFor(outlets: readonly PlacedOutlet[], held: number): OutletFacts | null {
    // What was told last is all that an asker can hold.
    const before = held === factsNumber && told ? told : null;
    if (told && sameOutlets(told, outlets)) return before ? null : outletFacts(outlets);
    told = outlets;
    factsNumber += 1;
    return outletFacts(outlets, before ?? undefined);
  }

  return {
    study(request) {
      if (request.since !== 0 && request.since !== number)
        throw new OutOfStep(`The patch is made on plan ${request.since}; plan ${number} is here.`);
      plan = patched(request.since === 0 ? emptyPlan() : plan, request.patch);
      number = request.number;
      const { scenario, friction } = request;
      const network = underLaw(networkFor(plan, scenario), friction);
      studied = studiedAs(request, network);
      const { runs, ...rest } = studied.figures;
      const facts = factsFor(network.outlets, request.factsHeld);
      return {
        factsNumber,
        facts,
        values: copiedValues(studied.values),
        runs: runColumns(runs),
        rest: { ...rest, solution: copied(rest.solution) },
        flushed: readFlushing(network, rest.solution),
        standing: scenario.kind === 'static' ? standingOf(plan) : null,
      };
    },
    check() {
      if (!studied) return [];
      const { network, values, figures, request } = studied;
      studied.results ??= { outlets: withValues(network.outlets, values), ...figures };
      return checkPlan(plan, network, studied.results, request.units);
    },
  };
}

/** From the running network: the creep of the regulators is added there. */
function standingOf(plan: Plan): Standing {
  const { highestKpa, outletsOver, runsOver } = staticOf(
    plan.controls,
    networkFor(plan, { kind: 'running' }),
  );
  return { highestKpa, outletsOver: outletsOver.length, runsOver: runsOver.length };
}

/** Its columns can be given away, those of the solution itself are needed for the next one. */
function copied(solution: Solution): Solution {
  return {
    ...solution,
    headM: solution.headM.slice(),
    flowM3s: solution.flowM3s.slice(),
    outletM3s: solution.outletM3s.slice(),
  };
}

const withValues = (placed: readonly PlacedOutlet[], values: OutletValues): OutletResult[] =>
  placed.map((outlet, i) => withValue(outlet, values, i));

/** Given away as well, and needed again for the checks. */
function copiedValues({ pressureKpa, flowLph, states }: OutletValues): OutletValues {
  return { pressureKpa: pressureKpa.slice(), flowLph: flowLph.slice(), states: states.slice() };
}

/** The columns of a reply that may change hands in place of being copied. */
export function columnsOf({ facts, values, runs, rest }: StudyReply): ArrayBuffer[] {
  const columns = [
    ...(facts ? [facts.stretches, facts.figures, facts.refs, facts.flags] : []),
    values.pressureKpa,
    values.flowLph,
    values.states,
    runs.figures,
    rest.solution.headM,
    rest.solution.flowM3s,
    rest.solution.outletM3s,
  ];
  return columns.map(({ buffer }) => buffer as ArrayBuffer);
}

/** What a study says, as the rest of the program reads it. */
export interface Studies extends SituationFigures {
  readonly results: Results;
}

/** Makes the requests to one server and reads its replies. One request at a time. */
export interface StudyAsker {
  /** @param whole sends the whole plan, whatever was sent before */
  request(order: StudyOrder, whole?: boolean): StudyRequest;
  read(reply: StudyReply): Studies;
}

export function createStudyAsker(): StudyAsker {
  let sent: Plan | null = null;
  let number = 0;
  let outlets: readonly OutletResult[] = [];
  let factsHeld = 0;
  return {
    request({ plan, ...asked }, whole = false) {
      const since = sent && !whole ? number : 0;
      const patch = planPatch(since === 0 ? emptyPlan() : sent!, plan);
      sent = plan;
      number += 1;
      return { ...asked, since, number, patch, factsHeld };
    },
    read({ values, runs, rest, flushed, standing, ...told }) {
      outlets = outletsFrom(told.facts, values, outlets);
      factsHeld = told.factsNumber;
      return {
        results: { ...rest, outlets, runs: runsFrom(runs) },
        flushed,
        standing,
      };
    },
  };
}
