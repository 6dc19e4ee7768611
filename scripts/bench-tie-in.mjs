/**
 * Measures how long all tie-ins of an old lateral take to be found and ranked: the graph, every joint, every pair.
 * Run with: npm run bench:tie-in [-- --pieces N]. The bar for 200 pieces is 200 ms.
 */
import process from 'node:process';
import { buildCore, openCore } from './built-core.mjs';

const BENCH = 'bench-tie-in';
const asked = process.argv.indexOf('--pieces');
const PIECES = asked > 0 ? Number(process.argv[asked + 1]) : 200;
const RUNS = 9;
const BAR_MS = 200;

function middle(figures) {
  return figures.toSorted((a, b) => a - b)[figures.length >> 1];
}

await buildCore(BENCH, {
  lateral: 'src/derive/existing/lateral/index.ts',
  nets: 'src/derive/existing/lateral/nets-for-tests.ts',
});
const [{ tieInsOf }, { largeNet }] = [await openCore(BENCH, 'lateral'), await openCore(BENCH, 'nets')];
const KINDS = ['run', 'tree', 'comb', 'one ring', 'two rings', 'one large ring', 'two large rings'];
console.log(
  `Tie-ins of an old lateral of about ${PIECES} pieces; middle of ${RUNS} runs, each of a new plan; time of the processor`,
);
console.log('net               pieces  singles   pairs    first ms   middle ms   elapsed ms');
let over = 0;
for (const kind of KINDS) {
  const cpu = [];
  const elapsed = [];
  let found;
  let pieces = 0;
  for (let i = 0; i < RUNS; i++) {
    const plan = largeNet(kind, PIECES);
    pieces = plan.laterals.size;
    const started = performance.now();
    const used = process.cpuUsage();
    found = tieInsOf(plan, { dripFlowLph: () => 300 })[0];
    const { user, system } = process.cpuUsage(used);
    cpu.push((user + system) / 1000);
    elapsed.push(performance.now() - started);
  }
  const time = middle(cpu);
  if (time > BAR_MS) over++;
  console.log(
    [
      kind.padEnd(17),
      String(pieces).padStart(6),
      String(found.evaluated.singles).padStart(8),
      String(found.evaluated.pairs).padStart(8),
      cpu[0].toFixed(0).padStart(10),
      time.toFixed(0).padStart(11),
      middle(elapsed).toFixed(0).padStart(12),
    ].join(' '),
  );
}
console.log(over === 0 ? `all within ${BAR_MS} ms` : `${over} over the bar of ${BAR_MS} ms`);
