/** Makes docs/screen.png from the built app, as a person sees it after opening the demo plan. */
import { existsSync, mkdirSync } from 'node:fs';
import path from 'node:path';
import process from 'node:process';
import { chromium } from '@playwright/test';
import { preview } from 'vite';
import { ROOT } from './run.mjs';

const OUT = path.join(ROOT, 'docs', 'screen.png');
const READY = '[data-ready="true"]';

if (!existsSync(path.join(ROOT, 'dist', 'index.html'))) {
  console.error('There is no build to take a picture of: run npm run build first.');
  process.exit(1);
}
const server = await preview({
  root: ROOT,
  logLevel: 'warn',
  preview: { host: '127.0.0.1', port: 4610, open: false },
});
const address = server.httpServer.address();
const port = typeof address === 'object' && address ? address.port : 4610;
const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM_PATH ?? '/usr/bin/chromium',
  args: ['--no-sandbox', '--disable-background-networking', '--disable-component-update', '--disable-sync'],
});
try {
  const page = await browser.newPage({ viewport: { width: 1440, height: 900 } });
  const troubles = [];
  page.on('pageerror', (error) => troubles.push(error.message));
  page.on('console', (message) => message.type() === 'error' && troubles.push(message.text()));
  await page.goto(`http://127.0.0.1:${port}/`);
  await page.locator(READY).waitFor({ state: 'attached', timeout: 60_000 });
  await page.evaluate(() => document.fonts.ready);
  // Two frames, so that what was computed last is drawn.
  await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));
  mkdirSync(path.dirname(OUT), { recursive: true });
  await page.screenshot({ path: OUT });
  console.log(`docs/screen.png, 1440 x 900`);
  if (troubles.length > 0) {
    console.error(`The page reported errors:\n${troubles.join('\n')}`);
    process.exitCode = 1;
  }
} catch (error) {
  console.error(`No picture: the app did not say that it is ready (${READY}): ${error.message}`);
  process.exitCode = 1;
} finally {
  await browser.close();
  await server.close();
}
