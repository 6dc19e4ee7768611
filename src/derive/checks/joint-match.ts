import { memo } from '../../base/memo.ts';
import type { Point } from '../../base/point.ts';
import { formatQuantity, type UnitSystem } from '../../base/quantity.ts';
import { INCH_MM } from '../../base/units.ts';
import { blankLike, tubingById, type Tubing } from '../../catalog/index.ts';
import type { FittingFamily, Plan, Run } from '../../plan/records.ts';
import { called } from '../network/notices.ts';
import type { Notice, PlanNetwork, RecordChange } from '../results.ts';
import { agree, counted, listed } from '../wording.ts';
import type { CheckInput, Limit, Rule } from './check.ts';
import { controlThreads } from './control-threads.ts';
import { liveFills, setChoices } from './live-fills.ts';

const SOURCE =
  'trade pages on fittings and threads (names withheld): sizes sold as 1/2 in differ by up to 0.1 in; barbs fit a bore within 0.01 in, press-in fittings an exact outside diameter: common practice';

const BORE: Limit = {
  key: 'joint-match.bore',
  label: 'Difference of bores on one barb, at most',
  kind: 'bore',
  usual: 0.01 * INCH_MM,
  least: 0,
  most: 10,
  source: SOURCE,
};
const OUTSIDE: Limit = {
  key: 'joint-match.outside',
  label: 'Difference of outside diameters in press-in fittings, at most',
  kind: 'bore',
  usual: 0.1,
  least: 0,
  most: 10,
  source: SOURCE,
};
/** Outside diameters that a compression fitting with a nut takes, mm (0.63 to 0.71 in: common practice). */
const NUT_RANGE_MM = [0.62 * INCH_MM, 0.715 * INCH_MM] as const;

/** Sizes that differ by more than this in bore nobody takes for one: reducing fittings are made for them, mm. */
const NEAR_MM = 3;

type SizeRule = 'joint-size' | 'joint-adapter' | 'joint-reducer';

/** Two runs of different tubing that meet. */
interface Meeting {
  readonly a: Run;
  readonly b: Run;
  readonly at: Point;
  /** Both end there, so that one coupling holds them; else one taps the other, by a start connector. */
  readonly endToEnd: boolean;
}

/** Places where runs of different tubing meet, by the nodes that they share, in linear time. */
const meetings = memo((runs: Plan['runs'], { network, pieces }: PlanNetwork): readonly Meeting[] => {
  const at = new Map<number, Point>();
  const runsAt = new Map<number, Map<string, number>>();
  pieces.forEach(({ owner, a, b }, link) => {
    if (owner.table !== 'runs') return;
    for (const [node, place] of [
      [network.links.from[link]!, a],
      [network.links.to[link]!, b],
    ] as const) {
      at.set(node, place);
      let here = runsAt.get(node);
      if (!here) runsAt.set(node, (here = new Map<string, number>()));
      here.set(owner.id, (here.get(owner.id) ?? 0) + 1);
    }
  });
  const found: Meeting[] = [];
  for (const [node, here] of runsAt) {
    if (here.size < 2) continue;
    const ids = [...here.keys()];
    for (let i = 0; i < ids.length; i++) {
      for (let j = i + 1; j < ids.length; j++) {
        const [a, b] = [runs.get(ids[i]!), runs.get(ids[j]!)];
        if (!a || !b || a.tubing === b.tubing) continue;
        found.push({
          a,
          b,
          at: at.get(node)!,
          endToEnd: ids.length === 2 && [...here.values()].every((n) => n === 1),
        });
      }
    }
  }
  return found;
});

/** Whether one fitting of a family holds both tubings. */
function fits(a: Tubing, b: Tubing, family: FittingFamily, boreMm: number, outsideMm: number): boolean {
  const bores = Math.abs(a.innerDiameterMm - b.innerDiameterMm) <= boreMm + 1e-9;
  const outsides = Math.abs(a.outerDiameterMm - b.outerDiameterMm) <= outsideMm + 1e-9;
  const inNut = ({ outerDiameterMm }: Tubing): boolean =>
    outerDiameterMm >= NUT_RANGE_MM[0] && outerDiameterMm <= NUT_RANGE_MM[1];
  switch (family) {
    case 'press-in':
      return outsides;
    case 'compression':
      return outsides || (inNut(a) && inNut(b));
    case 'lock':
    case 'barb':
    case 'clamped barb':
      return bores;
  }
}

/** Reckoned with until others are chosen, as for the pressure that fittings hold (design check 4): common practice. */
const USUAL_FAMILY: FittingFamily = 'clamped barb';

/** Tubing, threads and genders that do not fit where parts meet. */
export const jointMatch: Rule = {
  number: 35,
  title: 'Sizes, threads and genders at joints',
  says: [
    'joint-size',
    'joint-adapter',
    'joint-reducer',
    'feeder-in-dripline',
    'control-thread',
    'tie-in-thread',
  ],
  severity: 'error',
  limits: [BORE, OUTSIDE],
  source: SOURCE,
  check: (input) => [...sizes(input), ...feeders(input), ...controlThreads(input)],
};

function sizes(input: CheckInput): Notice[] {
  const { plan, planNetwork, limit } = input;
  const family = plan.practice.fittings ?? USUAL_FAMILY;
  const wrong = meetings(plan.runs, planNetwork).filter(({ a, b }) => {
    const [one, other] = [tubingById(a.tubing), tubingById(b.tubing)];
    return one && other && !fits(one, other, family, limit(BORE), limit(OUTSIDE));
  });
  const ruleOf = ({ a, b, endToEnd }: Meeting): SizeRule => {
    const apartMm = Math.abs(tubingById(a.tubing)!.innerDiameterMm - tubingById(b.tubing)!.innerDiameterMm);
    return apartMm > NEAR_MM ? 'joint-reducer' : endToEnd ? 'joint-size' : 'joint-adapter';
  };
  return (['joint-size', 'joint-adapter', 'joint-reducer'] as const).flatMap((rule) =>
    told(
      input,
      family,
      wrong.filter((meeting) => ruleOf(meeting) === rule),
      rule,
    ),
  );
}

const SEVERITY = { 'joint-size': 'error', 'joint-adapter': 'warning', 'joint-reducer': 'info' } as const;

function told(
  { plan, units }: CheckInput,
  family: FittingFamily,
  wrong: readonly Meeting[],
  rule: SizeRule,
): Notice[] {
  const [first] = wrong;
  if (!first) return [];
  const ids = [...new Set(wrong.flatMap(({ a, b }) => [a.id, b.id]))];
  const pair = `${sizeOf(first.a, family, units)} and ${sizeOf(first.b, family, units)}`;
  const changes = rule === 'joint-reducer' ? [] : matching(plan, wrong);
  const joints = counted(wrong.length, 'joint');
  return [
    {
      rule,
      severity: SEVERITY[rule],
      message: {
        'joint-size': `At ${joints} (runs ${listed(ids.map((id) => called(plan.runs.get(id)!)))}) tubing of two sizes that look alike meets end to end, ${pair}: no ${family} fitting of one size holds both. Use one tubing, or a coupling made for these two sizes.`,
        'joint-adapter': `At ${joints} rows tap tubing of another size that looks alike, ${pair}: a ${family} tee of one size does not hold both. Order start connectors or tees for these two sizes, or use tubing of one size.`,
        'joint-reducer': `${joints} ${agree(wrong.length, 'needs', 'need')} a reducing fitting, for ${pair}: order ${agree(wrong.length, 'it', 'them')} with the tubing.`,
      }[rule],
      refs: ids.map((id) => ({ table: 'runs', id }) as const),
      places: wrong.map(({ at }) => at),
      source: SOURCE,
      ...(changes.length > 0 ? { fix: { label: 'Use blank tubing of one size', changes } } : {}),
    },
  ];
}

function sizeOf({ tubing }: Run, family: FittingFamily, units: UnitSystem): string {
  const { name, innerDiameterMm, outerDiameterMm } = tubingById(tubing)!;
  const byOutside = family === 'press-in' || family === 'compression';
  const figure = formatQuantity('bore', byOutside ? outerDiameterMm : innerDiameterMm, units);
  // Some names say the bore already.
  if (!byOutside && name.endsWith('bore')) return name;
  return `${name} (${figure} ${byOutside ? 'outside' : 'bore'})`;
}

/** Blank tubing with the bore and outside diameter of the dripline that it meets, where there is such. */
function matching(plan: Plan, wrong: readonly Meeting[]): RecordChange[] {
  const wanted = new Map<string, string>();
  for (const { a, b } of wrong) {
    const [row, header] = a.inline ? [a, b] : [b, a];
    if (!row.inline || header.inline) continue;
    const match = blankLike(row.tubing);
    if (match) wanted.set(header.id, match.id);
  }
  const fills = liveFills(plan.fills);
  const changes: RecordChange[] = [];
  for (const tubing of new Set(wanted.values())) {
    const ids = [...wanted].filter(([, one]) => one === tubing).map(([id]) => id);
    const own = fills.filter((fill) => fill.runIds.some((id) => ids.includes(id)));
    const byFill = new Set(own.flatMap((fill) => fill.runIds));
    changes.push(...setChoices(own, { headerTubing: tubing }));
    const rest = ids.filter((id) => !byFill.has(id));
    if (rest.length > 0) changes.push({ kind: 'set', table: 'runs', ids: rest, fields: { tubing } });
  }
  return changes;
}

/** Feeders are punched into blank tubing: in dripline the barb meets emitters and a bore that they narrow. */
function feeders({ plan }: CheckInput): Notice[] {
  const wrong = [...plan.emitters].filter(({ runId }) => {
    const run = plan.runs.get(runId);
    return run !== undefined && (run.inline !== null || tubingById(run.tubing)?.use === 'feeder');
  });
  if (wrong.length === 0) return [];
  const runs = [...new Set(wrong.map(({ runId }) => runId))];
  return [
    {
      rule: 'feeder-in-dripline',
      severity: 'error',
      message: `${counted(wrong.length, 'point emitter')} ${agree(wrong.length, 'is', 'are')} punched into dripline or feeder tube (${agree(runs.length, 'run', 'runs')} ${listed(runs.map((id) => called(plan.runs.get(id)!)))}): barbs hold in blank tubing only. Hang ${agree(wrong.length, 'it', 'them')} on a blank run.`,
      refs: wrong.map(({ id }) => ({ table: 'emitters', id }) as const),
      places: wrong.map(({ at }) => at),
      source: 'common practice',
    },
  ];
}
