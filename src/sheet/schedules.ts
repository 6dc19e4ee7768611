import { pathLength } from '../base/polyline.ts';
import { formatQuantity, type UnitSystem } from '../base/quantity.ts';
import { filterById, regulatorById, tubingById } from '../catalog/index.ts';
import type { OutletResult, OutletState, Results } from '../derive/results.ts';
import type { Plan, Run } from '../plan/records.ts';
import type { Row, Schedule } from './table.ts';
import { WORDS } from './words.ts';

type ShownKind = 'length' | 'spacing' | 'pressure' | 'outletFlow' | 'zoneFlow';
type Show = Readonly<Record<ShownKind, (value: number) => string>> & {
  /** From the lowest to the highest of some values, with the unit said once. */
  readonly span: (kind: ShownKind, values: readonly number[]) => string;
};

function shower(units: UnitSystem): Show {
  return {
    length: (m) => formatQuantity('length', m, units),
    spacing: (m) => formatQuantity('spacing', m, units),
    pressure: (kPa) => formatQuantity('pressure', kPa, units),
    outletFlow: (lph) => formatQuantity('outletFlow', lph, units),
    zoneFlow: (lph) => formatQuantity('zoneFlow', lph, units),
    span: (kind, values) => {
      if (values.length === 0) return WORDS.none;
      const from = formatQuantity(kind, lowest(values), units, { unit: false });
      const to = formatQuantity(kind, highest(values), units, { unit: false });
      const whole = formatQuantity(kind, highest(values), units);
      return from === to ? whole : WORDS.outlet.span(from, whole);
    },
  };
}

/** Name of a run, or its number in the plan when it has none. */
function runName(plan: Plan, run: Run): string {
  return run.name || WORDS.run.unnamed(plan.runs.toArray().indexOf(run) + 1);
}

/** One line for each run, and the sum of all. */
export function runSchedule(plan: Plan, results: Results | null, units: UnitSystem): Schedule {
  const show = shower(units);
  const words = WORDS.run;
  let lengthM = 0;
  const rows = plan.runs.toArray().map((run): Row => {
    const result = results?.runs.get(run.id);
    const length = result?.lengthM ?? pathLength(run.path);
    lengthM += length;
    return {
      cells: [
        runName(plan, run),
        run.inline ? words.dripline : words.blank,
        tubingById(run.tubing)?.name ?? run.tubing,
        show.length(length),
        result ? String(result.outletCount) : WORDS.none,
        show.zoneFlow(result?.flowLph ?? NaN),
        show.pressure(result?.inletKpa ?? NaN),
        show.pressure(result?.worstKpa ?? NaN),
      ],
    };
  });
  if (rows.length > 0) {
    rows.push({
      bold: true,
      cells: [
        WORDS.totals,
        '',
        '',
        show.length(lengthM),
        results ? String(results.outletCount) : WORDS.none,
        show.zoneFlow(results?.totalFlowLph ?? NaN),
        '',
        show.pressure(results?.lowestKpa ?? NaN),
      ],
    });
  }
  return {
    title: WORDS.runs,
    columns: [
      { head: words.name, align: 'left', share: 1.7 },
      { head: words.kind, align: 'left', share: 1 },
      { head: words.tubing, align: 'left', share: 2 },
      { head: words.length, align: 'right', share: 1.25 },
      { head: words.emitters, align: 'right', share: 0.95 },
      { head: words.flow, align: 'right', share: 1.15 },
      { head: words.inlet, align: 'right', share: 1.05 },
      { head: words.worst, align: 'right', share: 1.05 },
    ],
    rows,
  };
}

const STATES: readonly OutletState[] = ['good', 'low', 'high', 'dry', 'apart'];

function lowest(values: readonly number[]): number {
  return values.reduce((least, value) => Math.min(least, value), Infinity);
}

function highest(values: readonly number[]): number {
  return values.reduce((most, value) => Math.max(most, value), -Infinity);
}

/** State of a group: the state of all, or the number in each state that is not in range. */
function statesOf(outlets: readonly OutletResult[]): string {
  const words = WORDS.outlet;
  const counts = STATES.map((state) => outlets.filter((outlet) => outlet.state === state).length);
  const single = counts.findIndex((count) => count === outlets.length);
  if (single >= 0) return words.states[STATES[single]!];
  return STATES.flatMap((state, i) =>
    state !== 'good' && counts[i]! > 0 ? [words.count(counts[i]!, words.states[state])] : [],
  ).join(', ');
}

/** The built-in emitters of a run as one line. */
function inlineRow(plan: Plan, run: Run, outlets: readonly OutletResult[], show: Show): Row {
  const words = WORDS.outlet;
  const pressures = outlets.map((outlet) => outlet.pressureKpa).filter(Number.isFinite);
  const flows = outlets.map((outlet) => outlet.flowLph).filter(Number.isFinite);
  return {
    cells: [
      runName(plan, run),
      words.inline(outlets.length, show.spacing(run.inline?.spacingM ?? NaN)),
      WORDS.none,
      show.outletFlow(outlets[0]?.ratedFlowLph ?? NaN),
      show.span('pressure', pressures),
      show.span('outletFlow', flows),
      statesOf(outlets),
    ],
  };
}

/** One line for the built-in emitters of each run, one for each point emitter, run by run. */
export function outletSchedule(plan: Plan, results: Results | null, units: UnitSystem): Schedule {
  const show = shower(units);
  const words = WORDS.outlet;
  const byRun = new Map<string, OutletResult[]>();
  for (const outlet of results?.outlets ?? []) {
    const list = byRun.get(outlet.runId);
    if (list) list.push(outlet);
    else byRun.set(outlet.runId, [outlet]);
  }
  const plantName = (id: string | null): string => (id && plan.plants.get(id)?.name) || WORDS.none;
  const rows: Row[] = [];
  for (const run of plan.runs) {
    const outlets = byRun.get(run.id) ?? [];
    const inline = outlets.filter((outlet) => outlet.owner.table === 'runs');
    if (inline.length > 0) rows.push(inlineRow(plan, run, inline, show));
    for (const outlet of outlets.filter((each) => each.owner.table === 'emitters')) {
      rows.push({
        cells: [
          runName(plan, run),
          words.point(outlet.number),
          plantName(outlet.plantId),
          show.outletFlow(outlet.ratedFlowLph),
          show.pressure(outlet.pressureKpa),
          show.outletFlow(outlet.flowLph),
          words.states[outlet.state],
        ],
      });
    }
  }
  if (!results) rows.push(...plainRows(plan, show, plantName));
  return {
    title: WORDS.outlets,
    columns: [
      { head: words.run, align: 'left', share: 1.5 },
      { head: words.what, align: 'left', share: 1.9 },
      { head: words.plant, align: 'left', share: 1.6 },
      { head: words.rated, align: 'right', share: 1 },
      { head: words.pressure, align: 'right', share: 1.7 },
      { head: words.flow, align: 'right', share: 1.6 },
      { head: words.state, align: 'left', share: 1.3 },
    ],
    rows,
  };
}

/** Outlets as chosen, while nothing is computed. */
function plainRows(plan: Plan, show: Show, plantName: (id: string | null) => string): Row[] {
  const words = WORDS.outlet;
  const rows: Row[] = [];
  for (const run of plan.runs) {
    if (run.inline) {
      const spacing = show.spacing(run.inline.spacingM);
      const rated = show.outletFlow(run.inline.ratedFlowLph);
      rows.push({
        cells: [runName(plan, run), words.spaced(spacing), WORDS.none, rated, ...UNKNOWN],
      });
    }
    let number = 0;
    for (const emitter of plan.emitters) {
      if (emitter.runId !== run.id) continue;
      number++;
      const rated = show.outletFlow(emitter.ratedFlowLph);
      rows.push({
        cells: [runName(plan, run), words.point(number), plantName(emitter.plantId), rated, ...UNKNOWN],
      });
    }
  }
  return rows;
}

const UNKNOWN: readonly string[] = [WORDS.none, WORDS.none, WORDS.none];

/** One line for each filter and regulator set. */
export function controlSchedule(plan: Plan, results: Results | null, units: UnitSystem): Schedule {
  const show = shower(units);
  const words = WORDS.control;
  const rows = plan.controls.toArray().map((control): Row => {
    const zone = results?.zones.find(({ owner }) => owner.table === 'controls' && owner.id === control.id);
    return {
      cells: [
        control.name || WORDS.none,
        filterById(control.filter)?.name ?? control.filter,
        regulatorById(control.regulator)?.name ?? control.regulator,
        show.pressure(control.setKpa),
        show.pressure(zone?.inletKpa ?? NaN),
        show.zoneFlow(zone?.flowLph ?? NaN),
        zone ? String(zone.outletCount) : WORDS.none,
      ],
    };
  });
  return {
    title: WORDS.controls,
    columns: [
      { head: words.name, align: 'left', share: 1.5 },
      { head: words.filter, align: 'left', share: 2 },
      { head: words.regulator, align: 'left', share: 1.4 },
      { head: words.setting, align: 'right', share: 1 },
      { head: words.inlet, align: 'right', share: 1 },
      { head: words.flow, align: 'right', share: 1 },
      { head: words.outlets, align: 'right', share: 0.8 },
    ],
    rows,
  };
}
