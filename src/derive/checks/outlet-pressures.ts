import { formatQuantity } from '../../base/quantity.ts';
import { PSI_KPA } from '../../base/units.ts';
import type { Notice, OutletResult } from '../results.ts';
import { agree, counted, isBelow, twoFigures } from '../wording.ts';
import { byControl, outletsByRun, type RunOutlets } from './by-run.ts';
import type { Check, CheckInput, Limit, Rule } from './check.ts';
import { dryOutlets } from './dry-outlets.ts';
import { fedBy } from './fed-by.ts';
import { higherSetting, lowerSetting } from './settings.ts';
import { wayOut } from './short-supply.ts';

const source = 'working range of the emitter as in the catalog (common practice)';
/** An outlet below its range that still gives this share of its rated flow is no failure yet (common practice). */
const GIVES: Limit = {
  key: 'outlet-pressure-low.gives',
  label: 'Share of its rated flow that an outlet gives at least',
  kind: 'percent',
  usual: 90,
  least: 10,
  most: 100,
  source: 'common practice',
};
const kept = { kind: 'pressure', least: 0, most: 400 } as const;
const LINE: Limit = {
  ...kept,
  key: 'outlet-pressure-low.dripline',
  label: 'Least pressure in compensating dripline',
  usual: 10 * PSI_KPA,
  source: 'common practice: 10 psi, a little above the point where its range begins',
};
const POINT: Limit = {
  ...kept,
  key: 'outlet-pressure-low.point',
  label: 'Least pressure at compensating point emitters',
  usual: 15 * PSI_KPA,
  source: 'common practice: 15 psi, a little above the point where their range begins',
};

/**
 * Every outlet needs the least pressure of its emitter, and compensating ones a little more than where their range
 * begins, so that they still regulate once filter and regulator are worn.
 */
const lowPressures: Check = (input) => {
  const { plan, planNetwork, results, units, limit } = input;
  const stillGives = limit(GIVES) / 100;
  const lineKpa = limit(LINE);
  const pointKpa = limit(POINT);
  const needed = ({ compensating, minKpa, owner }: OutletResult): number =>
    compensating ? Math.max(minKpa, owner.table === 'runs' ? lineKpa : pointKpa) : minKpa;
  const isLow = (outlet: OutletResult): boolean =>
    outlet.state === 'low' || (outlet.state === 'good' && isBelow(outlet.pressureKpa, needed(outlet)));
  const weakestOf = ({ outlets }: Pick<RunOutlets, 'outlets'>): number =>
    outlets.reduce((least, o) => Math.min(least, o.flowLph / o.ratedFlowLph), Infinity);
  const isInRange = ({ outlets }: Pick<RunOutlets, 'outlets'>): boolean =>
    outlets.every(({ state }) => state === 'good');
  /** The range of the emitter and the least of the design are two limits: says which of them is meant. */
  const why = (worst: OutletResult, inRange: boolean, outlets: readonly OutletResult[]): string => {
    if (!isBelow(worst.minKpa, needed(worst))) return '';
    const begins = formatQuantity('pressure', worst.minKpa, units);
    const within = outlets.filter(({ state }) => state === 'good').length;
    const also = inRange || within === 0 ? '' : `; ${within} of them are within it`;
    return ` by design (its own range begins at ${begins}${also})`;
  };
  const severityOf = (one: Pick<RunOutlets, 'outlets'>): Notice['severity'] =>
    isInRange(one) || weakestOf(one) >= stillGives ? 'warning' : 'error';
  const low = outletsByRun(plan, results.outlets, isLow);
  return byControl(low, planNetwork, severityOf).map((group): Notice => {
    const { runs, outlets, indices, refs } = group;
    const worst = outlets.reduce((a, b) => (b.pressureKpa / needed(b) < a.pressureKpa / needed(a) ? b : a));
    const [has, needs] = twoFigures('pressure', worst.pressureKpa, needed(worst), units);
    const inRange = isInRange(group);
    const gives = inRange
      ? 'which leaves nothing to spare as filter and regulator age'
      : `and the weakest gives ${Math.floor(100 * weakestOf(group))} % of ${agree(outlets.length, 'its', 'their')} rated flow`;
    return {
      rule: 'outlet-pressure-low',
      severity: severityOf(group),
      message: `${counted(outlets.length, 'outlet')} of ${runs} ${agree(outlets.length, 'has', 'have')} too little pressure; the lowest has ${has} and needs ${needs}${why(worst, inRange, outlets)}, ${gives}. ${wayOut(input, indices, 'Raise the set pressure, shorten the runs, or use wider tubing.')}`,
      refs,
      source: inRange ? (worst.owner.table === 'runs' ? LINE : POINT).source : source,
      ...raised(input, worst, needed(worst), indices[0]!),
    };
  });
};

function raised(input: CheckInput, worst: OutletResult, neededKpa: number, outlet: number) {
  const placed = controlOf(input, outlet);
  const setKpa = placed && input.plan.controls.get(placed.id)?.setKpa;
  if (!placed || setKpa === undefined) return {};
  // What friction takes grows with the flow of plain outlets, so their pressures stay in proportion to the setting.
  const lacksKpa = worst.compensating
    ? neededKpa - worst.pressureKpa
    : setKpa * (neededKpa / worst.pressureKpa - 1);
  return higherSetting(input, placed, setKpa + lacksKpa);
}

const controlOf = ({ planNetwork }: CheckInput, outlet: number) =>
  planNetwork.parts.controls[fedBy(planNetwork).controlOfOutlet[outlet]!];

/** No outlet takes more than the most of its emitter. */
export const highPressures: Check = (input) => {
  const { plan, planNetwork, results, units } = input;
  const high = outletsByRun(plan, results.outlets, (outlet) => outlet.state === 'high');
  return byControl(high, planNetwork).map(({ runs, outlets, indices, refs }): Notice => {
    const worst = outlets.reduce((a, b) => (b.pressureKpa - b.maxKpa > a.pressureKpa - a.maxKpa ? b : a));
    const [has, may] = twoFigures('pressure', worst.pressureKpa, worst.maxKpa, units);
    const placed = controlOf(input, indices[0]!);
    const setKpa = placed && plan.controls.get(placed.id)?.setKpa;
    return {
      rule: 'outlet-pressure-high',
      severity: 'error',
      message: `${counted(outlets.length, 'outlet')} of ${runs} ${agree(outlets.length, 'has', 'have')} too much pressure; the highest has ${has} and may have ${may}. Lower the set pressure, or set a regulator of its own for low ground.`,
      refs,
      source,
      ...(placed && setKpa !== undefined
        ? lowerSetting(input, placed, setKpa - (worst.pressureKpa - worst.maxKpa))
        : {}),
    };
  });
};

export const lowPressureRule: Rule = {
  number: 3,
  title: 'Least pressure at the outlets',
  says: ['outlets-dry', 'outlet-pressure-low'],
  severity: 'error',
  limits: [GIVES, LINE, POINT],
  source,
  check: (input) => [...dryOutlets(input), ...lowPressures(input)],
};
