/**
 * Measures, in the built app with a plan of 10,000 outlets, 3,000 plants and 40 beds, how long a dragged valve takes,
 * and the end of its main with it, until the new colours are painted, how long an edit and its undo hold up the page, and the longest task of the page
 * while the pointer drags. Prints its figures.
 * Run with: npm run build && node scripts/bench-live.mjs [--dist FOLDER] [--moves N]
 */
import path from 'node:path';
import process from 'node:process';
import { fileURLToPath } from 'node:url';
import { chromium } from '@playwright/test';
import { preview } from 'vite';
import { bigPlan } from './big-plan.mjs';
import { drag, edits, latencies, watchStudies } from './bench-live-page.mjs';

const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '..');
const given = (name, usual) => {
  const at = process.argv.indexOf(name);
  return at < 0 ? usual : process.argv[at + 1];
};
const outDir = path.resolve(root, given('--dist', 'dist'));
const moves = Number(given('--moves', '40'));

function share(figures, part) {
  const sorted = figures.toSorted((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(part * sorted.length))];
}
const shown = (figures) =>
  `p50 ${share(figures, 0.5).toFixed(1)} ms, p95 ${share(figures, 0.95).toFixed(1)} ms, most ${Math.max(...figures).toFixed(1)} ms`;

/** Where a place of the ground lies in the page. */
async function spotOf(page, [x, y]) {
  const camera = await page.evaluate(() => {
    window.dispatchEvent(new Event('pagehide'));
    return JSON.parse(localStorage.getItem('dripwright.prefs')).camera;
  });
  const box = await page.locator('.canvas-stage').boundingBox();
  return [
    box.x + box.width / 2 + (x - camera.center[0]) * camera.pixelsPerMetre,
    box.y + box.height / 2 - (y - camera.center[1]) * camera.pixelsPerMetre,
  ];
}

const { plan, text, outlets } = await bigPlan();
console.log(
  `${plan.areas.size} beds, ${plan.plants.size} plants, ${plan.runs.size} runs, ${outlets} outlets`,
);
const server = await preview({
  root,
  logLevel: 'error',
  build: { outDir },
  preview: { port: Number(process.env.BENCH_PORT ?? 4396), strictPort: true, host: '127.0.0.1' },
});
const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM_PATH ?? '/usr/bin/chromium',
  args: ['--no-sandbox'],
});
try {
  const page = await browser.newPage({ viewport: { width: 1440, height: 900 } });
  page.on('pageerror', (error) => console.log(`error in the page: ${error.message}`));
  await page.addInitScript(watchStudies);
  await page.goto(server.resolvedUrls.local[0]);
  await page.locator('[data-ready="true"]').waitFor();
  await page
    .locator('[data-testid="file-chooser"]')
    .setInputFiles({ name: 'large.json', mimeType: 'application/json', buffer: Buffer.from(text) });
  await page.getByText('is open').first().waitFor();
  await page.getByRole('navigation', { name: 'Views' }).getByRole('button', { name: 'Lay out' }).click();
  await page.waitForFunction(() => window.studies.replies > 2 && window.studies.open === 0);
  await page.waitForTimeout(1500);

  // The first valve, with the end of the main that is joined to it: at this zoom it can be told from its neighbours.
  const corner = await spotOf(page, [...plan.supplies][0].at);
  await page.mouse.click(...corner);
  const spoken = await page.evaluate(latencies, { corner, moves });
  console.log(`moved to new colours painted: ${shown(spoken.wholeMs)}`);
  console.log(`  until the worker's reply arrives:  ${shown(spoken.replyMs)}`);
  console.log(`  reading the reply and redrawing:   ${shown(spoken.paintMs)}`);

  const dragged = await page.evaluate(drag, { corner, frames: 120 });
  console.log(
    `dragging for 120 frames: ${dragged.answers} answers, frames ${shown(dragged.frameMs)}, ` +
      `longest task ${Math.max(0, ...dragged.tasks).toFixed(0)} ms (${dragged.tasks.length} above 50 ms)`,
  );
  const told = await page.evaluate(edits, { count: 20 });
  console.log(`edit by key, page held up:  ${shown(told.editMs)}`);
  console.log(`undo by key, page held up:  ${shown(told.undoMs)}`);
} finally {
  await browser.close();
  await server.close();
}
