/**
 * Measures how long all design checks take on a bed of 420 by 59 ft on a 2:1 slope with 3,000 shrubs and rows of
 * dripline by the contour, after one run was moved: network and results are new, and what hangs on other tables is
 * remembered, as while someone draws. Prints the slowest rules. Run with: node scripts/bench-checks.mjs. The bar is
 * 60 ms for the sum of each rule's least time, since other work of the machine only adds.
 */
import process from 'node:process';
import { buildCore, openCore } from './built-core.mjs';

const BENCH = 'bench-checks';
const RUNS = 31;
const BAR_MS = 60;
const SLOWEST = 12;

/** Milliseconds that something takes. */
function timed(work) {
  const started = performance.now();
  work();
  return performance.now() - started;
}

await buildCore(BENCH, {
  checks: 'src/derive/checks/index.ts',
  derive: 'src/derive/index.ts',
  hydraulics: 'src/hydraulics/index.ts',
  fill: 'src/layout/rows/index.ts',
  fillPlans: 'src/layout/rows/plan-for-fill-tests.ts',
  pointPlans: 'src/layout/points/plan-for-points-tests.ts',
});
const [
  { checkPlan, findingsOf, limitOf, RULES },
  derive,
  { solve },
  { fillBed, fillEdit },
  { CHOICES },
  { fillSlope },
] = await Promise.all(
  ['checks', 'derive', 'hydraulics', 'fill', 'fillPlans', 'pointPlans'].map((name) => openCore(BENCH, name)),
);

const choices = { ...CHOICES, direction: 'contour', lowerThirdFactor: 1.25 };
const bare = fillSlope();
const filled = fillBed(bare, 'B1', choices);
if (!filled.ok) throw new Error(filled.problem.what);
let plan = fillEdit(bare, 'B1', filled.value, { replace: true }).apply(bare);

const all = [];
const byRule = new Map();
let found = [];
let outlets = 0;
for (let i = 0; i < RUNS; i++) {
  const [run] = plan.runs;
  const path = run.path.map(([x, y]) => [x, y + 0.001]);
  plan = { ...plan, runs: plan.runs.with({ ...run, path }) };
  const planNetwork = derive.buildPlanNetwork(plan);
  const results = derive.readResults(planNetwork, solve(planNetwork.network));
  outlets = results.outletCount;
  if (i % 2 === 0) {
    all.push(timed(() => (found = checkPlan(plan, planNetwork, results, 'us'))));
    continue;
  }
  // Every other time rule by rule, so that what rules share counts for the first that needs it.
  const input = { plan, planNetwork, results, units: 'us', limit: limitOf(plan) };
  for (const rule of RULES) {
    const ms = timed(() => findingsOf(rule, input));
    byRule.set(rule.title, [...(byRule.get(rule.title) ?? []), ms]);
  }
}
const slow = [...byRule].map(([title, times]) => ({ title, ms: Math.min(...times) }));
const time = slow.reduce((sum, { ms }) => sum + ms, 0);
console.log(
  `${outlets} outlets, ${plan.plants.size} plants, ${plan.runs.size} runs, ${RULES.length} rules, ${found.length} findings: ` +
    `first ${all[0].toFixed(0)} ms, least of ${all.length} ${Math.min(...all).toFixed(0)} ms, ` +
    `sum of the least by rule ${time.toFixed(0)} ms, bar ${BAR_MS} ms`,
);
for (const { title, ms } of slow.toSorted((a, b) => b.ms - a.ms).slice(0, SLOWEST)) {
  console.log(`  ${ms.toFixed(1)} ms  ${title}`);
}
if (time > BAR_MS) process.exitCode = 1;
