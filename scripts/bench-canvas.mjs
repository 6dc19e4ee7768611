/**
 * Holds the canvas of the built app against its bars, with 10,000 outlets, 3,000 plants, 40 beds and a photo of 12
 * megapixels (scripts/big-plan.mjs), in headless Chromium:
 *   - pan, zoom and the drag of a corner against the same scene drawn by a bare loop over its marks in the same page,
 *     in turn, on the 95th percentile of the frames: at most 1.3 times as long;
 *   - what lies under the pointer: under 2 ms;
 *   - an edit and its undo: under 5 ms;
 *   - from the move of a corner to new colours on the screen: under 100 ms (95th percentile in bench-live.mjs).
 * Frames run free, not in step with a display, so that their length is what the work takes. Writes docs/bench-canvas.md.
 * Run with: npm run bench:canvas [-- --rounds N --frames N]
 */
import { writeFile } from 'node:fs/promises';
import os from 'node:os';
import path from 'node:path';
import process from 'node:process';
import { fileURLToPath } from 'node:url';
import { chromium } from '@playwright/test';
import { preview } from 'vite';
import { appFrames, bareFrames, layBare, preparePage } from './bench-canvas-page.mjs';
import { bigPlan } from './big-plan.mjs';
import { buildCore, openCore } from './built-core.mjs';

const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '..');
const given = (name, usual) => {
  const at = process.argv.indexOf(name);
  return at < 0 ? usual : process.argv[at + 1];
};
const ROUNDS = Number(given('--rounds', '5'));
const FRAMES = Number(given('--frames', '60'));
const BENCH = 'bench-canvas';
const BARS = { frame: 1.3, pickMs: 2, editMs: 5 };
const KINDS = { pan: 'pan', zoom: 'zoom', drag: 'corner drag' };

const percentile = (times, share) =>
  times.toSorted((a, b) => a - b)[Math.min(times.length - 1, Math.floor(times.length * share))];
const figures = (times) => `${percentile(times, 0.5).toFixed(1)} / ${percentile(times, 0.95).toFixed(1)}`;

await buildCore(BENCH, {
  drawing: 'src/drawing/index.ts',
  pick: 'src/drawing/pick.ts',
  file: 'src/plan/file.ts',
  edits: 'src/plan/edits/index.ts',
  editor: 'src/editor/index.ts',
  study: 'src/derive/study.ts',
  fit: 'src/derive/photo-fit.ts',
});
const open = (name) => openCore(BENCH, name);
const [drawing, { pick }, { readPlan }, { moveVertex }, editorModule, { studyOf }, { fitPhoto }] =
  await Promise.all(['drawing', 'pick', 'file', 'edits', 'editor', 'study', 'fit'].map(open));

/** A picture of 12 megapixels, made in a page: noise over tiles, as hard to draw as a real one. */
async function makePicture(browser) {
  const page = await browser.newPage();
  const address = await page.evaluate(async () => {
    const canvas = new OffscreenCanvas(4000, 3000);
    const pen = canvas.getContext('2d');
    const image = pen.createImageData(4000, 3000);
    let seed = 1;
    for (let at = 0; at < image.data.length; at += 4) {
      seed = (Math.imul(seed, 1664525) + 1013904223) >>> 0;
      const tile = (((at / 4) % 4000) >> 6) + (Math.floor(at / 16000) >> 6);
      image.data.set([110 + (tile % 3) * 30 + (seed >>> 27), 150 + (seed >>> 28), 100, 255], at);
    }
    pen.putImageData(image, 0, 0);
    const blob = await canvas.convertToBlob({ type: 'image/jpeg', quality: 0.85 });
    return new Promise((done) => {
      const reader = new FileReader();
      reader.onload = () => done(reader.result);
      reader.readAsDataURL(blob);
    });
  });
  await page.close();
  return address.slice(address.indexOf(',') + 1);
}

/** The plan file with a photo under all of it. */
function withPhoto(text, base64) {
  const file = JSON.parse(text);
  const places = file.areas.flatMap(({ outline }) => outline);
  const [east, north] = [0, 1].map((axis) => Math.max(...places.map((place) => place[axis])));
  file.photo = {
    pictureId: 'big-picture',
    name: 'site.jpg',
    widthPx: 4000,
    heightPx: 3000,
    corner: [0, north + 2],
    turnDeg: 0,
    assumedWidthM: east + 3,
    measures: [],
    strength: 0.85,
    rectification: null,
  };
  file.picture = { mediaType: 'image/jpeg', base64 };
  return JSON.stringify(file);
}

const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM_PATH ?? '/usr/bin/chromium',
  args: ['--no-sandbox', '--disable-frame-rate-limit', '--disable-gpu-vsync'],
});
const text = withPhoto((await bigPlan()).text, await makePicture(browser));
const read = readPlan(text);
if (!read.ok) throw new Error(read.problem.what);
const { plan } = read.value;

/** Times of a step, ms, one for each turn. */
function timed(turns, step) {
  const times = [];
  for (let i = 0; i < turns; i++) {
    const from = performance.now();
    step(i);
    times.push(performance.now() - from);
  }
  return times;
}

function pickTimes() {
  const beds = [...plan.areas].filter(({ use }) => use === 'bed');
  const places = Array.from({ length: 2000 }, (_, i) => {
    const { outline } = beds[i % beds.length];
    const [a, b] = [outline[0], outline[2 % outline.length]];
    const t = ((i * 37) % 101) / 101;
    return [a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t];
  });
  return timed(places.length, (i) => pick(plan, places[i], 0.15, 0.02));
}

/** Back to the view in which the bare loop draws. */
async function showAll(page) {
  await page.keyboard.press('0');
  await page.waitForTimeout(300);
}

/** Chooses the bed whose corner is at a place of the page; what lies near to it is locked, lest that is caught. */
async function chooseBed(page, [x, y]) {
  await page.getByRole('button', { name: 'Layers' }).click();
  for (const layer of [
    'Plants',
    'Drip tubing and outlets',
    'Valves and control sets',
    'Levels, falls, contours',
  ])
    await page.getByLabel(`Lock: ${layer}`).check();
  await page.keyboard.press('Escape');
  await page.mouse.click(x, y);
  await page.waitForTimeout(500);
}

/** Corner of a bed to and fro, each move kept and undone, as the editor does it. */
function editTimes() {
  const editor = editorModule.createEditor(plan);
  const bed = [...plan.areas].find(({ use }) => use === 'bed');
  const ref = { table: 'areas', id: bed.id, ring: 0, index: 0 };
  const [x, y] = bed.outline[0];
  const plant = [...plan.plants][0];
  const one = (i) => {
    if (i % 2) editor.commit(moveVertex('Move corner', ref, [x - 0.01 * (1 + (i % 7)), y]));
    else {
      editor.select([{ table: 'plants', id: plant.id }]);
      editor.nudgeSelection(0.01, 0);
    }
    editor.undo();
  };
  timed(40, one);
  return timed(200, one);
}

/** The app's drawing as plain marks with colours, as a bare loop can draw them. */
function sceneFor(camera) {
  const { results } = studyOf(plan);
  const layers = drawing.drawPlan(plan, results, {
    units: 'us',
    show: new Set([...drawing.DEFAULT_SHOW, 'headTags']),
    colourRange: null,
    photoMetresPerPixel: fitPhoto(plan.photo).metresPerPixel,
  });
  const PX = 96 / 25.4;
  const colour = (ink) => drawing.colorOf(ink);
  const stroke = (penOf) =>
    penOf && {
      stroke: colour(penOf.ink),
      width: Math.max(penOf.widthMm * PX, 0.5),
      dash: penOf.dashMm?.map((mm) => mm * PX),
    };
  const marks = [];
  const texts = [];
  for (const layer of layers) {
    // As in the app: beyond this number symbols are squares.
    const coarse = layer.marks.filter(({ kind }) => kind === 'symbol').length > 4000;
    for (const mark of layer.marks) {
      const fill = mark.fill && { fill: colour(mark.fill), opacity: mark.fillOpacity ?? 1 };
      if (mark.kind === 'path') {
        marks.push({ kind: 'path', lines: mark.lines, closed: mark.closed, ...fill, ...stroke(mark.pen) });
      } else if (mark.kind === 'circle') {
        marks.push({ kind: 'circle', at: mark.at, radiusM: mark.radiusM, ...fill, ...stroke(mark.pen) });
      } else if (mark.kind === 'symbol' && coarse) {
        const hollow = mark.fill === undefined || mark.fill === 'paper';
        marks.push({
          kind: 'square',
          at: mark.at,
          fill: colour((hollow ? mark.pen?.ink : mark.fill) ?? 'line'),
        });
      } else if (mark.kind === 'symbol') {
        const size = drawing.symbolSizeMm(mark, camera.scale / PX) * PX;
        const [dx, dy] = (mark.shiftMm ?? [0, 0]).map((mm) => mm * PX);
        const pieces = drawing.symbolShape(mark.name, mark.turnDeg).map((piece) => ({
          ...(piece.kind === 'circle'
            ? { circle: [dx + piece.at[0] * size, dy + piece.at[1] * size, piece.radius * size] }
            : { points: piece.points.map(([u, v]) => [dx + u * size, dy + v * size]), closed: piece.closed }),
          fill:
            piece.paint === 'solid'
              ? colour(mark.pen?.ink ?? mark.fill ?? 'line')
              : piece.paint === 'both' && mark.fill
                ? colour(mark.fill)
                : null,
          ...(piece.paint === 'solid' ? {} : stroke(mark.pen)),
        }));
        marks.push({ kind: 'shape', at: mark.at, pieces });
      } else if (mark.kind === 'text') texts.push(mark);
    }
  }
  for (const mark of drawing.legible(texts, camera.scale / PX, false)) {
    marks.push({
      kind: 'text',
      at: mark.at,
      text: mark.text,
      turn: (-(mark.turnDeg ?? 0) * Math.PI) / 180,
      font: `${mark.bold ? '700 ' : ''}${Math.max(mark.sizeMm * PX, 11)}px "Noto Sans", sans-serif`,
      align: mark.anchor === 'middle' ? 'center' : mark.anchor,
      shift: (mark.shiftMm ?? [0, 0]).map((mm) => mm * PX),
      halo: colour('paper'),
      fill: colour(mark.ink),
    });
  }
  const photo = layers[0].marks.find(({ kind }) => kind === 'photo');
  return { marks, photo, camera };
}

const server = await preview({
  root,
  logLevel: 'error',
  build: { outDir: path.resolve(root, given('--dist', 'dist')) },
  preview: { port: 0, host: '127.0.0.1' },
});
const results = {};
let counts;
try {
  const page = await browser.newPage({ viewport: { width: 1440, height: 900 } });
  await page.goto(server.resolvedUrls.local[0]);
  await page.locator('[data-ready="true"]').waitFor();
  await page.evaluate(preparePage);
  await page
    .locator('[data-testid="file-chooser"]')
    .setInputFiles({ name: 'big.dripwright.json', mimeType: 'application/json', buffer: Buffer.from(text) });
  await page.getByText('is open').first().waitFor({ timeout: 60_000 });
  // Until pressures are there, the photo is drawn sharp and the view is noted.
  await page.waitForTimeout(8000);
  const stage = await page.locator('.canvas-stage').boundingBox();
  const noted = await page.evaluate(() => {
    window.dispatchEvent(new Event('pagehide'));
    return JSON.parse(localStorage.getItem('dripwright.prefs')).camera;
  });
  const camera = {
    x: noted.center[0],
    y: noted.center[1],
    scale: noted.pixelsPerMetre,
    width: stage.width,
    height: stage.height,
  };
  const scene = sceneFor(camera);
  counts = `${plan.areas.size} areas, ${plan.plants.size} plants, ${plan.runs.size} runs, ${scene.marks.length} marks`;
  const picture = JSON.parse(text).picture;
  await page.evaluate(layBare, {
    scene,
    pictureUrl: picture && `data:${picture.mediaType};base64,${picture.base64}`,
    width: stage.width,
    height: stage.height,
  });
  const bed = [...plan.areas].find(({ use }) => use === 'bed');
  const corner = [
    camera.width / 2 + (bed.outline[2][0] - camera.x) * camera.scale,
    camera.height / 2 - (bed.outline[2][1] - camera.y) * camera.scale,
  ];
  for (const kind of Object.keys(KINDS)) {
    const own = { app: [], bare: [] };
    await showAll(page);
    if (kind === 'drag') await chooseBed(page, [stage.x + corner[0], stage.y + corner[1]]);
    for (let round = -1; round < ROUNDS; round++) {
      await showAll(page);
      const app = await page.evaluate(appFrames, { kind, count: FRAMES, from: corner });
      if (kind === 'drag') {
        const kept = await page.getByRole('button', { name: 'Undo' }).getAttribute('title');
        if (!kept?.includes('Move corner')) throw new Error(`the corner was not dragged: ${kept}`);
        await page.keyboard.press('Control+z');
      }
      await page.waitForTimeout(400);
      const bare = await page.evaluate(bareFrames, { kind, count: FRAMES });
      // The first round warms both up.
      if (round < 0) continue;
      own.app.push(...app);
      own.bare.push(...bare);
    }
    results[kind] = own;
    console.log(
      `${KINDS[kind]}: app ${figures(own.app)}, bare ${figures(own.bare)} ms (middle / 95 %), ratio ${(percentile(own.app, 0.95) / percentile(own.bare, 0.95)).toFixed(2)}`,
    );
  }
  if (process.argv.includes('--shot')) await page.screenshot({ path: given('--shot') });
} finally {
  await browser.close();
  await server.close();
}

const picks = pickTimes();
const edits = editTimes();
const rows = [
  ...Object.entries(results).map(([kind, { app, bare }]) => {
    const ratio = percentile(app, 0.95) / percentile(bare, 0.95);
    return [
      `frame, ${KINDS[kind]}`,
      `${figures(app)} ms`,
      `${figures(bare)} ms`,
      ratio.toFixed(2),
      `${BARS.frame}`,
      ratio <= BARS.frame,
    ];
  }),
  [
    'under the pointer',
    `${figures(picks)} ms`,
    '',
    '',
    `${BARS.pickMs} ms`,
    percentile(picks, 0.95) < BARS.pickMs,
  ],
  [
    'edit and undo',
    `${figures(edits)} ms`,
    '',
    '',
    `${BARS.editMs} ms`,
    percentile(edits, 0.95) < BARS.editMs,
  ],
];
const report = `# Canvas bench

\`npm run bench:canvas\` on ${os.cpus().length} processors (${os.cpus()[0].model.trim()}), headless Chromium without a
graphics card; ${counts}; photo of 12 megapixels; window of 1440 by 900. Middle and 95th percentile of
${ROUNDS} rounds of ${FRAMES} frames, app and bare loop in turn in one page. Frames run free of the display's beat.

| what | app | bare loop | ratio | bar | met |
|---|---|---|---|---|---|
${rows.map((row) => `| ${row.slice(0, 5).join(' | ')} | ${row[5] ? 'yes' : 'no'} |`).join('\n')}

The bare loop draws the same marks with the same colours, widths and level of detail, and nothing else: no plan, no
picking, no panels. Under the pointer and edit are timed in Node on the code that the app runs. The time from the move of
a corner to new colours is measured by \`scripts/bench-live.mjs\`, the fill of a large slope by \`npm run bench:fill\`.
`;
console.log(report);
if (!process.argv.includes('--quick')) await writeFile(path.join(root, 'docs/bench-canvas.md'), report);
if (rows.some((row) => !row[5])) process.exitCode = 1;
