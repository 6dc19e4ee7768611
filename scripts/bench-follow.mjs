/**
 * Measures what it costs that rows follow their beds: an edit that concerns no fill in a plan of 40 filled beds, a corner
 * of one of these beds, and a corner of a bed of 11,460 emitters, while it is dragged and at the end. Run with:
 * node scripts/bench-follow.mjs
 */
import process from 'node:process';
import { buildCore, openCore } from './built-core.mjs';

const BENCH = 'bench-follow';
const RUNS = 30;
/** What an edit may wait for rows while a corner is dragged, and for nothing at all, ms. */
const DRAG_BAR_MS = 8;
const ALONE_BAR_MS = 2;

await buildCore(BENCH, {
  live: 'src/layout/live/index.ts',
  rows: 'src/layout/rows/index.ts',
  edits: 'src/plan/edits/index.ts',
  plans: 'src/layout/rows/plan-for-fill-tests.ts',
});
const [{ follow, layFill }, { fillEdit }, { moveVertex, move }, { area, bedPlan, rectangle, CHOICES, FT }] =
  await Promise.all(['live', 'rows', 'edits', 'plans'].map((name) => openCore(BENCH, name)));

function filled(plan, areaId, choices) {
  const laid = layFill(plan, { kind: 'bed', areaId, choices }, { lead: false });
  if (!laid.ok) throw new Error(laid.problem.what);
  return fillEdit(plan, areaId, laid.value, { replace: false, choices }).apply(plan);
}

function spread(figures) {
  const sorted = figures.toSorted((a, b) => a - b);
  const at = (share) => sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))].toFixed(2);
  return { text: `p50 ${at(0.5)} ms, p95 ${at(0.95)} ms`, middle: sorted[sorted.length >> 1] };
}

function timed(plan, editOf, options) {
  const elapsed = [];
  for (let i = 0; i < RUNS; i++) {
    const edited = editOf(i).apply(plan);
    const started = performance.now();
    follow(plan, edited, options);
    elapsed.push(performance.now() - started);
  }
  return spread(elapsed);
}

const corner =
  (id, index, [x, y]) =>
  (i) =>
    moveVertex('', { table: 'areas', id, ring: 0, index }, [x + i * 0.01, y]);
const choices = { ...CHOICES, direction: 'contour', lowerThirdFactor: 1.25 };

const areas = Array.from({ length: 40 }, (_, i) =>
  area(`A${i + 1}`, rectangle((i % 8) * 20, Math.floor(i / 8) * 14, 16, 11)),
);
let many = bedPlan([...areas, area('P', rectangle(170, 0, 3, 3), { use: 'paving' })], 0, 0.3);
for (const { id } of areas) many = filled(many, id, choices);
const huge = filled(bedPlan([area('B', rectangle(0, 0, 420 * FT, 59 * FT))], 0, 0.5), 'B', choices);
const middle = bedPlan([area('B', rectangle(0, 0, 50, 20))], 0, 0.3);
const quarter = filled(middle, 'B', choices);
console.log(
  `40 beds: ${many.runs.size} runs; large bed: ${huge.runs.size} runs; middling bed: ${quarter.runs.size}`,
);

const alone = timed(many, (i) => move('', [{ table: 'areas', id: 'P' }], 0.01 * i + 0.01, 0));
console.log(`paving elsewhere moved: ${alone.text}`);
const one = timed(many, corner('A1', 2, [16, 11]), { drafted: true });
console.log(`corner of one bed, dragged: ${one.text}`);
console.log(`corner of one bed, kept: ${timed(many, corner('A1', 2, [16, 11])).text}`);
const most = timed(quarter, corner('B', 2, [50, 20]), { drafted: true });
console.log(`corner of a middling bed, dragged: ${most.text}`);
console.log(
  `corner of the large bed, dragged: ${timed(huge, corner('B', 2, [128, 18]), { drafted: true }).text}`,
);
console.log(`corner of the large bed, kept: ${timed(huge, corner('B', 2, [128, 18])).text}`);
console.log(
  `a level under all 40 beds, dragged: ${timed(many, (i) => ({ apply: (plan) => ({ ...plan, levels: plan.levels.with({ ...plan.levels.get('Z1'), zM: i * 0.1 }) }) }), { drafted: true }).text}`,
);
if (one.middle > DRAG_BAR_MS || most.middle > DRAG_BAR_MS || alone.middle > ALONE_BAR_MS)
  process.exitCode = 1;
