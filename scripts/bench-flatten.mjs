/**
 * Measures how long the built app takes to lay a photo of 12 megapixels flat, from the press of the button to the flat
 * picture on the plan, and how long the page stood still meanwhile. Prints its figures.
 * Run with: npm run build && node scripts/bench-flatten.mjs [--dist FOLDER] [--runs N]
 */
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { chromium } from '@playwright/test';
import { preview } from 'vite';

const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '..');
const given = (name, usual) => {
  const at = process.argv.indexOf(name);
  return at < 0 ? usual : process.argv[at + 1];
};
const outDir = path.resolve(root, given('--dist', 'dist'));
const runs = Number(given('--runs', '5'));
const [WIDTH, HEIGHT] = [4000, 3000];
/** Shares of the photo's width and height: a figure of 10 m by 8 m seen at a slant. */
const MARKS = [
  [0.1, 0.85],
  [0.9, 0.85],
  [0.72, 0.25],
  [0.28, 0.25],
];
const SIDES = { 'Side 1–2': '10 m', 'Side 2–3': '8 m' };

/** A photo made in the page: noise over tiles, so that it is as hard to encode as a real one. */
async function makePhoto(page) {
  const address = await page.evaluate(
    async ([width, height]) => {
      const canvas = new OffscreenCanvas(width, height);
      const pen = canvas.getContext('2d');
      const image = pen.createImageData(width, height);
      let seed = 1;
      for (let at = 0; at < image.data.length; at += 4) {
        seed = (Math.imul(seed, 1664525) + 1013904223) >>> 0;
        const x = (at / 4) % width;
        const y = Math.floor(at / 4 / width);
        const tile = (x >> 6) + (y >> 6);
        image.data[at] = 120 + (tile % 3) * 30 + (seed >>> 27);
        image.data[at + 1] = 130 + (tile % 2) * 40 + ((seed >>> 22) & 31);
        image.data[at + 2] = 90 + (seed >>> 28);
        image.data[at + 3] = 255;
      }
      pen.putImageData(image, 0, 0);
      const blob = await canvas.convertToBlob({ type: 'image/jpeg', quality: 0.9 });
      return new Promise((done) => {
        const reader = new FileReader();
        reader.onload = () => done(reader.result);
        reader.readAsDataURL(blob);
      });
    },
    [WIDTH, HEIGHT],
  );
  return Buffer.from(address.slice(address.indexOf(',') + 1), 'base64');
}

async function measure(page, photo) {
  await page.getByRole('button', { name: 'File', exact: true }).click();
  await page.getByRole('menuitem', { name: 'New plan on a blank grid' }).click();
  const choosing = page.waitForEvent('filechooser');
  await page.keyboard.press('Control+o');
  await (await choosing).setFiles({ name: 'yard.jpg', mimeType: 'image/jpeg', buffer: photo });
  await page.getByText('yard.jpg').waitFor();
  await page.keyboard.press('r');
  const box = await page.locator('.canvas-stage').boundingBox();
  // Where the photo lies while all is shown: in the middle, with room round it.
  const scale = Math.min(box.width / WIDTH, box.height / HEIGHT) * 0.84;
  for (const [x, y] of MARKS) {
    await page.mouse.click(
      box.x + box.width / 2 + (x - 0.5) * WIDTH * scale,
      box.y + box.height / 2 + (y - 0.5) * HEIGHT * scale,
    );
  }
  await page.getByLabel('Known').selectOption('Rectangle');
  for (const [label, typed] of Object.entries(SIDES)) {
    await page.getByLabel(label, { exact: true }).fill(typed);
    await page.getByLabel(label, { exact: true }).press('Enter');
  }
  const size = await page
    .locator('.figures > div')
    .filter({ hasText: 'Flat picture' })
    .locator('dd')
    .textContent();
  const times = await page.evaluate(
    () =>
      new Promise((done) => {
        const canvas = document.querySelector('.canvas-stage');
        const button = [...document.querySelectorAll('button')].find((one) => one.textContent === 'Flatten');
        const start = performance.now();
        let [last, still] = [start, 0];
        const frame = (now) => {
          still = Math.max(still, now - last);
          last = now;
          if (canvas.dataset.tool === 'rectify') requestAnimationFrame(frame);
          else done({ wholeMs: performance.now() - start, stillMs: still });
        };
        requestAnimationFrame(frame);
        button.click();
      }),
  );
  return { ...times, size };
}

const server = await preview({
  root,
  logLevel: 'error',
  build: { outDir },
  preview: { port: Number(process.env.BENCH_PORT ?? 4397), strictPort: true, host: '127.0.0.1' },
});
const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM_PATH ?? '/usr/bin/chromium',
  args: ['--no-sandbox'],
});
try {
  const page = await browser.newPage({ viewport: { width: 1440, height: 900 } });
  await page.goto(server.resolvedUrls.local[0]);
  await page.locator('[data-ready="true"]').waitFor();
  const photo = await makePhoto(page);
  console.log(`photo ${WIDTH} x ${HEIGHT}, ${(photo.length / 1e6).toFixed(1)} MB`);
  const all = [];
  for (let run = 0; run < runs; run++) {
    const { wholeMs, stillMs, size } = await measure(page, photo);
    all.push(wholeMs);
    console.log(
      `run ${run + 1}: flat picture ${size}, ${wholeMs.toFixed(0)} ms in all, longest pause of the page ${stillMs.toFixed(0)} ms`,
    );
  }
  all.sort((a, b) => a - b);
  console.log(`median ${all[all.length >> 1].toFixed(0)} ms`);
} finally {
  await browser.close();
  await server.close();
}
