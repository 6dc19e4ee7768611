/**
 * Measures the solver against the EPANET engine on grids of 200 to 50,000 outlets and writes docs/bench-solver.md.
 * Run with: node scripts/bench-solver.mjs [--quick] [--print]
 * --quick leaves out 50,000 outlets; --print shows the page without writing it.
 */
import { mkdir, rm, writeFile } from 'node:fs/promises';
import os from 'node:os';
import path from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import v8 from 'node:v8';
import vm from 'node:vm';
import { build } from 'vite';

const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '..');
const built = path.join(root, 'node_modules', '.cache', 'bench-solver');
const quick = process.argv.includes('--quick');
const printOnly = process.argv.includes('--print');

const RUNS = 9;
const PER_ROW = 200;
const SIZES = quick ? [200, 2000, 10000] : [200, 2000, 10000, 50000];

v8.setFlagsFromString('--expose_gc');
const collect = vm.runInNewContext('gc');

/** The solver as the browser gets it, built, not run through a development transform. */
async function load() {
  await rm(built, { recursive: true, force: true });
  await mkdir(built, { recursive: true });
  await build({
    root,
    configFile: false,
    logLevel: 'error',
    build: {
      ssr: true,
      outDir: built,
      emptyOutDir: false,
      target: 'es2023',
      rollupOptions: {
        input: {
          solver: path.join(root, 'src/hydraulics/index.ts'),
          generated: path.join(root, 'src/hydraulics/samples/generated.ts'),
          engine: path.join(root, 'tests/conformance/engine.ts'),
        },
        output: { entryFileNames: '[name].mjs' },
      },
    },
  });
  const from = (name) => import(pathToFileURL(path.join(built, `${name}.mjs`)).href);
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

/** Median time in ms of `RUNS` calls; `ready(i)` is called before each and not timed. */
function timed(work, ready = () => {}) {
  const times = [];
  for (let i = 0; i < RUNS; i++) {
    const input = ready(i);
    const start = processorMs();
    work(input);
    times.push(processorMs() - start);
  }
  return median(times);
}

/** The network with another length of one piece in the middle row. */
function changedLength(network, i) {
  const lengthM = network.links.lengthM.slice();
  lengthM[Math.floor(lengthM.length / 2) - 30] = 0.3 + 0.02 * (i + 1);
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

  for (let i = 0; i < RUNS; i++) solve(network);
  const coldMs = timed(() => solve(network));
  const cold = solve(network);
  let last = cold;
  let warmIterations = 0;
  const warmMs = timed(
    (changed) => {
      last = solve(changed, last);
      warmIterations = Math.max(warmIterations, last.iterations);
    },
    (i) => changedLength(network, i),
  );

  const engine = await engineOf(network);
  engine.run();
  const engineMs = timed(() => engine.run());
  const heads = engine.headsM();
  let difference = 0;
  for (let v = 0; v < heads.length; v++)
    difference = Math.max(difference, Math.abs(heads[v] - cold.headM[v]));
  engine.close();

  // Keeps both alive until the memory has been read.
  if (network.outlets.count !== outlets || solution.headM.length === 0) throw new Error('Wrong network.');
  network = solution = null;
  return {
    outlets,
    looped,
    coldMs,
    warmMs,
    engineMs,
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

function page(results) {
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
      number(r.engineMs / r.coldMs, 1),
      number(r.engineMs / r.warmMs, 1),
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
  const middle = results.filter((r) => r.outlets === 2000 || r.outlets === 10000);
  const big = results.filter((r) => r.outlets >= 2000);
  const lines = [
    '# The solver, measured',
    '',
    `Written by \`node scripts/bench-solver.mjs\`: median of ${RUNS} runs, processor time of the whole process (collection of`,
    `garbage and compiling in the background included), Node ${process.version}, ${os.cpus()[0].model}, ${os.cpus().length} cores. Rows of`,
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
        middle.map((r) => number(r.engineMs / r.coldMs, 1)).join(', '),
        middle.every((r) => r.engineMs / r.coldMs >= 8),
      ],
      [
        'warm after one changed length at least 40 times as fast, from 2,000',
        big.map((r) => number(r.engineMs / r.warmMs, 1)).join(', '),
        big.every((r) => r.engineMs / r.warmMs >= 40),
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

const parts = await load();
// Lets the compiler see the code before anything is timed.
for (let i = 0; i < 300; i++) {
  const network = parts.rowsOnHeader(4 + (i % 5), PER_ROW, i % 2 === 0);
  parts.solve(changedLength(network, i), parts.solve(network));
}
const results = [];
for (const looped of [false, true])
  for (const outlets of SIZES) results.push(await measure(parts, outlets, looped));
const text = page(results);
process.stdout.write(text);
if (!printOnly) await writeFile(path.join(root, 'docs', 'bench-solver.md'), text);
if (results.some((r) => !r.converged)) process.exitCode = 1;
