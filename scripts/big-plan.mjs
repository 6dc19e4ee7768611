/**
 * A large invented plan for benches: beds on sloping ground, filled with rows by the app's own aid, each with its valve
 * and control set, and plants. The same figures always give the same plan.
 * Run with: node scripts/big-plan.mjs [FILE] [--beds N] [--outlets N] [--plants N]
 */
import { writeFileSync } from 'node:fs';
import process from 'node:process';
import { fileURLToPath } from 'node:url';
import { buildCore, openCore } from './built-core.mjs';

const BENCH = 'big-plan';
const FOOT = 0.3048;
const ROW_M = 1.5 * FOOT;
const EDGE_M = FOOT / 3;
const CHOICES = {
  pattern: 'straight',
  rowSpacingM: ROW_M,
  emitterSpacingM: ROW_M,
  ratedFlowLph: 2.27,
  law: 'inline-pc',
  tubing: 'inline-17',
  headerTubing: 'blank-three-quarter',
  edgeM: EDGE_M,
  direction: 'contour',
  stagger: true,
  lowerThirdFactor: 1,
  leaveOut: [],
  headers: 'both ends',
  equalise: true,
};
const GAP_M = 3;
const ACROSS = 8;

/** Numbers from 0 to 1, the same at each run. */
function numbers(seed) {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}

/** Height of the invented slope, metres: it rises north and has a hollow. */
const heightAt = ([x, y]) => 0.02 * x + 0.11 * y + 0.4 * Math.sin(x / 23);

/**
 * @param options `beds`, least number of `outlets` of all beds together, number of `plants` of all beds together
 * @returns the plan, the text of its file, and how many outlets its fills count
 */
export async function bigPlan({ beds = 40, outlets = 10_000, plants = 3_000 } = {}) {
  await buildCore(BENCH, {
    rows: 'src/layout/rows/index.ts',
    empty: 'src/plan/empty.ts',
    file: 'src/plan/file.ts',
    table: 'src/base/table.ts',
  });
  const [{ fillBed, fillEdit }, { emptyPlan, UNMEASURED_SUPPLY }, { writePlan }, { Table }] =
    await Promise.all(['rows', 'empty', 'file', 'table'].map((name) => openCore(BENCH, name)));

  // An emitter stands for a square of the row spacing; beds are twice as long as wide.
  const each = outlets / beds;
  const heightM = Math.sqrt((each * ROW_M * ROW_M) / 2) + 2 * EDGE_M + ROW_M / 2;
  const widthM = 2 * heightM;
  const corner = (i) => [
    GAP_M + (i % ACROSS) * (widthM + GAP_M),
    GAP_M + Math.floor(i / ACROSS) * (heightM + GAP_M),
  ];
  const corners = Array.from({ length: beds }, (_, i) => corner(i));
  const siteM = [ACROSS * (widthM + GAP_M) + GAP_M, Math.ceil(beds / ACROSS) * (heightM + GAP_M) + GAP_M];

  const empty = emptyPlan('Large invented site');
  let plan = {
    ...empty,
    soil: { ...empty.soil, texture: 'loam' },
    areas: Table.of(
      corners.map(([x, y], i) => ({
        id: `B${i + 1}`,
        use: 'bed',
        name: `Bed ${i + 1}`,
        outline: [
          [x, y],
          [x + widthM, y],
          [x + widthM, y + heightM],
          [x, y + heightM],
        ],
        holes: [],
      })),
    ),
    levels: Table.of(
      Array.from({ length: 24 }, (_, i) => {
        const at = [((i % 6) / 5) * siteM[0], (Math.floor(i / 6) / 3) * siteM[1]];
        return { id: `Z${i + 1}`, at, zM: heightAt(at) };
      }),
    ),
    supplies: Table.of(
      corners.map(([x, y], i) => ({
        ...UNMEASURED_SUPPLY,
        id: `V${i + 1}`,
        name: `Valve ${i + 1}`,
        at: [x - 1, y - 1],
        pressureKpa: 420,
      })),
    ),
    controls: Table.of(
      corners.map(([x, y], i) => ({
        id: `C${i + 1}`,
        name: `Control set ${i + 1}`,
        at: [x - 1, y - 1],
        filter: 'screen-155',
        regulator: 'window-0.1-8',
        setKpa: 240,
      })),
    ),
    plants: Table.of(plantsIn(corners, widthM, heightM, plants)),
  };

  let count = 0;
  corners.forEach(([x, y], i) => {
    const filled = fillBed(plan, `B${i + 1}`, CHOICES);
    if (!filled.ok) throw new Error(`Bed ${i + 1}: ${filled.problem.what}`);
    count += filled.value.figures.emitters;
    plan = fillEdit(plan, `B${i + 1}`, filled.value, { replace: false, choices: CHOICES }).apply(plan);
    const mains = filled.value.starts.map((start, k) => ({
      id: `M${i + 1}-${k + 1}`,
      name: `Main ${i + 1}`,
      path: [[x - 1, y - 1], start],
      tubing: CHOICES.headerTubing,
      inline: null,
    }));
    plan = { ...plan, runs: plan.runs.with(...mains) };
  });
  return { plan, text: writePlan(plan, null), outlets: count };
}

/** Plants spread evenly over the beds, each moved a little from its place in a grid. */
function plantsIn(corners, widthM, heightM, plants) {
  const chance = numbers(7);
  const each = Math.ceil(plants / corners.length);
  const columns = Math.ceil(Math.sqrt(2 * each));
  const lines = Math.ceil(each / columns);
  const all = corners.flatMap(([x, y], i) =>
    Array.from({ length: each }, (_, k) => ({
      id: `P${i + 1}-${k + 1}`,
      at: [
        x + (((k % columns) + 0.35 + 0.3 * chance()) / columns) * widthM,
        y + ((Math.floor(k / columns) + 0.35 + 0.3 * chance()) / lines) * heightM,
      ],
      name: ['Rounded shrub', 'Low cover', 'Tuft'][k % 3],
      plantClass: ['shrub', 'groundcover', 'perennial'][k % 3],
      canopyNowM: null,
      canopyMatureM: 0.5 + 0.6 * chance(),
      rootBallM: null,
      waterUse: null,
    })),
  );
  return all.slice(0, plants);
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const given = process.argv.slice(2);
  const figures = {};
  for (const name of ['beds', 'outlets', 'plants']) {
    const at = given.indexOf(`--${name}`);
    if (at >= 0) figures[name] = Number(given.splice(at, 2)[1]);
  }
  const { plan, text, outlets } = await bigPlan(figures);
  if (given[0]) writeFileSync(given[0], text);
  console.log(
    `${plan.areas.size} beds, ${plan.plants.size} plants, ${plan.runs.size} runs, ${outlets} outlets, ` +
      `${(text.length / 1e6).toFixed(2)} MB${given[0] ? `, written to ${given[0]}` : ''}`,
  );
}
