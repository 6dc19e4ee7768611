/**
 * Measures how long point emitters and their tubing take: 40 beds of 75 plants each as islands in one paving, and
 * 3,000 plants on a slope of 420 by 59 ft. Run with: node scripts/bench-points.mjs. The bars are 500 ms and 1 s.
 */
import process from 'node:process';
import { buildCore, openCore } from './built-core.mjs';

const BENCH = 'bench-points';
const RUNS = 5;

function middle(figures) {
  return figures.toSorted((a, b) => a - b)[figures.length >> 1];
}

await buildCore(BENCH, {
  points: 'src/layout/points/index.ts',
  plans: 'src/layout/points/plan-for-points-tests.ts',
});
const [{ layPoints, USUAL_POINTS }, { islands, fillSlope }] = [
  await openCore(BENCH, 'points'),
  await openCore(BENCH, 'plans'),
];
for (const { name, plan, barMs } of [
  { name: '40 islands of 75 plants', plan: () => islands(40, 75), barMs: 500 },
  { name: 'slope of 3,000 plants', plan: fillSlope, barMs: 1000 },
]) {
  const elapsed = [];
  let laid;
  for (let i = 0; i < RUNS; i++) {
    // Another plan each time, so that nothing is remembered.
    const fresh = plan();
    const started = performance.now();
    laid = layPoints(fresh, [...fresh.plants], USUAL_POINTS);
    elapsed.push(performance.now() - started);
  }
  const time = middle(elapsed);
  console.log(
    `${name}: ${laid.emitterCount} emitters, ${laid.route.runs.length} runs, ${Math.round(laid.tubingM)} m: ` +
      `first ${elapsed[0].toFixed(0)} ms, middle of ${RUNS} ${time.toFixed(0)} ms, bar ${barMs} ms`,
  );
  if (time > barMs) process.exitCode = 1;
}
