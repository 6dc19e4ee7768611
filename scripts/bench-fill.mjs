/**
 * Measures how long a bed of 420 by 59 ft on a 2:1 slope takes to be filled with rows by the contour, and the edit that
 * draws them. Run with: node scripts/bench-fill.mjs. The bar is 300 ms.
 */
import process from 'node:process';
import { buildCore, openCore } from './built-core.mjs';

const BENCH = 'bench-fill';
const RUNS = 9;
const BAR_MS = 300;

function middle(figures) {
  return figures.toSorted((a, b) => a - b)[figures.length >> 1];
}

await buildCore(BENCH, {
  rows: 'src/layout/rows/index.ts',
  plans: 'src/layout/rows/plan-for-fill-tests.ts',
});
const [{ fillBed, fillEdit }, { area, bedPlan, rectangle, CHOICES, FT }] = [
  await openCore(BENCH, 'rows'),
  await openCore(BENCH, 'plans'),
];
const choices = { ...CHOICES, direction: 'contour', lowerThirdFactor: 1.25 };
const elapsed = [];
let figures;
for (let i = 0; i < RUNS; i++) {
  // Another plan each time, so that nothing is remembered.
  const plan = bedPlan([area('B', rectangle(0, 0, 420 * FT, 59 * FT))], 0, 0.5);
  const started = performance.now();
  const filled = fillBed(plan, 'B', choices);
  if (!filled.ok) throw new Error(filled.problem.what);
  fillEdit(plan, 'B', filled.value, { replace: true }).apply(plan);
  elapsed.push(performance.now() - started);
  figures = filled.value.figures;
}
const time = middle(elapsed);
console.log(
  `${figures.rows} rows, ${Math.round(figures.lengthM / FT)} ft, ${figures.emitters} emitters: ` +
    `first ${elapsed[0].toFixed(0)} ms, middle of ${RUNS} ${time.toFixed(0)} ms, bar ${BAR_MS} ms`,
);
if (time > BAR_MS) process.exitCode = 1;
