/**
 * Measures the solver against the EPANET engine on grids of 200 to 50,000 outlets and writes docs/bench-solver.md.
 * Run with: node scripts/bench-solver.mjs [--quick] [--print]
 * --quick leaves out 50,000 outlets; --print shows the page without writing it.
 */
import { spawnSync } from 'node:child_process';
import { writeFile } from 'node:fs/promises';
import os from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import v8 from 'node:v8';
import vm from 'node:vm';
import { buildCore, openCore } from './built-core.mjs';

const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '..');
const quick = process.argv.includes('--quick');
const printOnly = process.argv.includes('--print');
/** Given to a process that measures one network. */
const ONE = '--one';

const RUNS = 9;
const PER_ROW = 200;
/** Different changed lengths. */
const CHANGES = 9;
/** Sizes that the bar for cold calls is set for, and the size of the large network before others. */
const BARRED = [2000, 10000];
const LARGE = 50000;
const SIZES = quick ? [200, 2000, 10000] : [200, 2000, 10000, 50000];

v8.setFlagsFromString('--expose_gc');
const collect = vm.runInNewContext('gc');

const BENCH = 'bench-solver';
const load = () =>
  buildCore(BENCH, {
    solver: 'src/hydraulics/index.ts',
    generated: 'src/hydraulics/samples/generated.ts',
    engine: 'tests/conformance/engine.ts',
  });

async function open() {
  const from = (name) => openCore(BENCH, name);
  const [{ solve }, { rowsOnHeader }, { engineOf }] = await Promise.all([
    from('solver'),
    from('generated'),
    from('engine'),
  ]);
  return { solve, rowsOnHeader, engineOf };
}

function median(values) {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)];
}

/** Processor time of this process so far, ms: on a machine shared with others it says more than the clock. */
function processorMs() {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
}

/** A sample lasts at least this long, ms: asking for the processor time itself takes a twentieth of a millisecond. */
const SAMPLE_MS = 1;
/** Calls that together give the mean, with all collection of garbage. */
const MEAN_CALLS = 40;

/** How many calls make a sample. */
function callsFor(work) {
  for (let i = 0; i < RUNS; i++) work();
  for (let calls = 1; ; calls *= 2) {
    const start = processorMs();
    for (let i = 0; i < calls; i++) work();
    if (processorMs() - start >= SAMPLE_MS) return calls;
  }
}

/** Samples in a row, of which the median counts: the first ones find nothing of their own in the caches. */
const IN_A_ROW = 5;

/**
 * Times of one call in ms, for `RUNS` rounds: in each round some samples of every work, so that all meet the same load
 * of the machine.
 */
function rounds(works) {
  const calls = works.map(callsFor);
  const times = works.map(() => []);
  for (let round = 0; round < RUNS; round++) {
    works.forEach((work, w) => {
      const samples = [];
      for (let sample = 0; sample < IN_A_ROW; sample++) {
        const start = processorMs();
        for (let i = 0; i < calls[w]; i++) work();
        samples.push((processorMs() - start) / calls[w]);
      }
      times[w].push(median(samples));
    });
  }
  return times;
}

/** The network with another length of one piece in the middle row. */
function changedLength(network, i) {
  const lengthM = network.links.lengthM.slice();
  lengthM[Math.floor(lengthM.length / 2) - 30] = 0.3 + 0.02 * ((i % CHANGES) + 1);
  return { ...network, links: { ...network.links, lengthM } };
}

function used() {
  collect();
  collect();
  const { heapUsed, arrayBuffers } = process.memoryUsage();
  return heapUsed + arrayBuffers;
}

async function measure({ solve, rowsOnHeader, engineOf }, outlets, looped) {
  const rows = outlets / PER_ROW;
  const before = used();
  let network = rowsOnHeader(rows, PER_ROW, looped);
  const networkBytes = used() - before;
  let solution = solve(network);
  const solved = used();
  const bytesPerOutlet = (solved - before) / outlets;

  const cold = solve(network);
  let last = cold;
  let warmIterations = 0;
  let warmCalls = 0;
  let idle = 0;
  const changed = Array.from({ length: CHANGES }, (_, i) => changedLength(network, i));
  const engine = await engineOf(network);
  const [coldTimes, warmTimes, engineTimes] = rounds([
    () => solve(network),
    () => {
      // Each call has another length than the one before.
      last = solve(changed[warmCalls++ % CHANGES], last);
      if (last.iterations === 0) idle++;
      warmIterations = Math.max(warmIterations, last.iterations);
    },
    () => engine.run(),
  ]);
  const meanStart = processorMs();
  for (let i = 0; i < MEAN_CALLS; i++) solve(network);
  const coldMeanMs = (processorMs() - meanStart) / MEAN_CALLS;
  const ratio = (times) => median(times.map((ms, round) => engineTimes[round] / ms));
  const heads = engine.headsM();
  let difference = 0;
  for (let v = 0; v < heads.length; v++)
    difference = Math.max(difference, Math.abs(heads[v] - cold.headM[v]));
  engine.close();

  if (idle > 0) throw new Error(`${idle} warm calls had nothing to do.`);
  // Keeps both alive until the memory has been read.
  if (network.outlets.count !== outlets || solution.headM.length === 0) throw new Error('Wrong network.');
  network = solution = null;
  return {
    outlets,
    looped,
    coldMs: median(coldTimes),
    coldMeanMs,
    warmMs: median(warmTimes),
    engineMs: median(engineTimes),
    coldRatio: ratio(coldTimes),
    warmRatio: ratio(warmTimes),
    difference,
    iterations: cold.iterations,
    warmIterations,
    massLph: cold.massErrorM3s * 3.6e6,
    energyM: cold.energyErrorM,
    networkBytes: networkBytes / outlets,
    bytesPerOutlet,
    converged: cold.converged && last.converged,
  };
}

const number = (value, digits) => value.toFixed(digits);
const bar = (ok) => (ok ? 'met' : '**missed**');

const named = (r) => `${r.looped ? 'looped' : 'tree'} ${r.outlets}`;

function page(results, seasoned) {
  const head =
    '| network | outlets | cold ms | passes | warm ms | passes | engine ms | cold ratio | warm ratio | largest head difference mm | bytes an outlet |\n' +
    '|---|---|---|---|---|---|---|---|---|---|---|';
  const rows = results.map((r) =>
    [
      '',
      r.looped ? 'looped' : 'tree',
      r.outlets,
      number(r.coldMs, 2),
      r.iterations,
      number(r.warmMs, 3),
      r.warmIterations,
      number(r.engineMs, 2),
      number(r.coldRatio, 1),
      number(r.warmRatio, 1),
      number(r.difference * 1000, 4),
      // Below this the program's own memory moves more than what is measured.
      r.outlets < 2000 ? '–' : number(r.bytesPerOutlet, 0),
      '',
    ]
      .join(' | ')
      .trim(),
  );
  const exponents = [false, true].map((looped) => {
    const own = results.filter((r) => r.looped === looped && r.outlets >= 2000);
    const [small, large] = [own[0], own[own.length - 1]];
    const exponent = Math.log(large.coldMs / small.coldMs) / Math.log(large.outlets / small.outlets);
    const growth = large.coldMs / large.outlets / (small.coldMs / small.outlets);
    return { looped, exponent, growth, small: small.outlets, large: large.outlets };
  });
  const middle = results.filter((r) => BARRED.includes(r.outlets));
  const big = results.filter((r) => r.outlets >= 2000);
  const lines = [
    '# The solver, measured',
    '',
    `Written by \`node scripts/bench-solver.mjs\`: median of ${RUNS} rounds, each with the median of ${IN_A_ROW} samples`,
    `of every work (calls of ${SAMPLE_MS} ms together, or one), so that all meet the same load; ratios are taken within a round.`,
    `Processor time of the whole process, one for each network; Node ${process.version}, ${os.cpus()[0].model}, ${os.cpus().length} cores. Rows of`,
    `${PER_ROW} outlets of 2 L/h, 0.3 m apart, on tubing of 13.8 mm, from a header sized for 1.5 m/s; a footer where looped.`,
    '',
    'Cold: `solve(network)` with nothing known; building of all matrices and the check of all values are included. Warm: one',
    'length changed, started from the answer before. Engine: EPANET 2.3.5 (WebAssembly), `runH` alone, building left out,',
    'friction brought to the same gravity. The code has run some hundred times before, so that it is compiled.',
    '',
    head,
    ...rows,
    '',
    '| bar | got | |',
    '|---|---|---|',
    ...[
      [
        'cold at least 8 times as fast at 2,000 and 10,000',
        middle.map((r) => number(r.coldRatio, 1)).join(', '),
        middle.every((r) => r.coldRatio >= 8),
      ],
      [
        'warm after one changed length at least 40 times as fast, from 2,000',
        big.map((r) => number(r.warmRatio, 1)).join(', '),
        big.every((r) => r.warmRatio >= 40),
      ],
      [
        'time an outlet at the largest at most 1.5 times that at 2,000 (tree, looped)',
        exponents.map((e) => number(e.growth, 2)).join(', '),
        exponents.every((e) => e.growth <= 1.5),
      ],
      [
        'live memory of network, answer and workspace under 600 bytes an outlet, from 2,000',
        number(Math.max(...big.map((r) => r.bytesPerOutlet)), 0),
        big.every((r) => r.bytesPerOutlet < 600),
      ],
      [
        'heads within 1 mm of the engine',
        `${number(Math.max(...results.map((r) => r.difference)) * 1000, 4)} mm`,
        results.every((r) => r.difference < 1e-3),
      ],
    ].map(([what, got, ok]) => `| ${what} | ${got} | ${bar(ok)} |`),
    '',
    'The bars are held against the table: medians, which leave out the calls that meet collection of garbage, in a fresh',
    'process. Less kind conditions, which no bar is set for:',
    '',
    `- mean of ${MEAN_CALLS} cold calls in a row, all collection of garbage and its threads included, against the engine: ` +
      big.map((r) => `${named(r)}: ${number(r.engineMs / r.coldMeanMs, 1)}`).join(', '),
    `- in a process that has solved networks of ${LARGE} outlets before, cold and warm: ` +
      `${seasoned.map((r) => `${named(r)}: ${number(r.coldRatio, 1)} and ${number(r.warmRatio, 1)}`).join(', ')}`,
    '',
    ...exponents.map(
      (e) =>
        `Growth of the cold time from ${e.small} to ${e.large} outlets, ${e.looped ? 'looped' : 'tree'}: exponent ${number(e.exponent, 3)}.`,
    ),
    '',
    `Largest imbalance of a node ${Math.max(...results.map((r) => r.massLph)).toExponential(1)} L/h, ` +
      `of a link ${Math.max(...results.map((r) => r.energyM)).toExponential(1)} m.`,
    '',
  ];
  return lines.join('\n');
}

/** Measures one network in this process, after some large ones where asked, and prints what it found. */
async function measureHere(outlets, looped, afterLarge) {
  const parts = await open();
  // Lets the compiler see the code before anything is timed.
  for (let i = 0; i < 300; i++) {
    const network = parts.rowsOnHeader(4 + (i % 5), PER_ROW, i % 2 === 0);
    parts.solve(changedLength(network, i), parts.solve(network));
  }
  if (afterLarge) {
    const network = parts.rowsOnHeader(LARGE / PER_ROW, PER_ROW, false);
    const changed = changedLength(network, 0);
    for (let i = 0; i < RUNS; i++) parts.solve(changed, parts.solve(network));
  }
  process.stdout.write(JSON.stringify(await measure(parts, outlets, looped)));
}

/** Measures one network in a process of its own: what the compiler made of the ones before has no part in it. */
function measureApart(outlets, looped, afterLarge = false) {
  const self = fileURLToPath(import.meta.url);
  const { status, stdout } = spawnSync(
    process.execPath,
    [self, ONE, ...[outlets, looped, afterLarge].map(String)],
    {
      encoding: 'utf8',
      stdio: ['ignore', 'pipe', 'inherit'],
    },
  );
  if (status !== 0) throw new Error(`Measuring ${outlets} outlets failed; see above.`);
  return JSON.parse(stdout);
}

const one = process.argv.indexOf(ONE);
if (one > 0) {
  const [outlets, looped, afterLarge] = process.argv.slice(one + 1);
  await measureHere(Number(outlets), looped === 'true', afterLarge === 'true');
} else {
  await load();
  const results = [];
  for (const looped of [false, true])
    for (const outlets of SIZES) results.push(measureApart(outlets, looped));
  const seasoned = [false, true].flatMap((looped) =>
    BARRED.map((outlets) => measureApart(outlets, looped, true)),
  );
  const text = page(results, seasoned);
  process.stdout.write(text);
  if (!printOnly) await writeFile(path.join(root, 'docs', 'bench-solver.md'), text);
  if (results.some((r) => !r.converged)) process.exitCode = 1;
}
