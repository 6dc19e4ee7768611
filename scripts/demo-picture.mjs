/**
 * Paints public/demo/site.png, the picture under the demo plan, from the figures in src/app/demo-site.ts.
 * Nothing is fetched; the same sources give the same picture. Skips the work when the picture is newer than they.
 */
import { existsSync, mkdirSync, readdirSync, renameSync, statSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { runnerImport } from 'vite';
import { encodePng } from './painting/png.mjs';
import { paintSite } from './painting/scene.mjs';

const place = (path) => fileURLToPath(new URL(path, import.meta.url));
const target = place('../public/demo/site.png');
const sources = [
  place('demo-picture.mjs'),
  place('../src/app/demo-site.ts'),
  ...readdirSync(place('painting')).map((name) => place(`painting/${name}`)),
];

const changed = Math.max(...sources.map((path) => statSync(path).mtimeMs));
if (existsSync(target) && statSync(target).mtimeMs >= changed) {
  process.exit(0);
}

const { module: site } = await runnerImport(place('../src/app/demo-site.ts'), {
  configFile: false,
  logLevel: 'error',
});
const started = performance.now();
const png = encodePng(paintSite(site));
mkdirSync(place('../public/demo'), { recursive: true });
// A half-written picture must not pass for a finished one.
writeFileSync(`${target}.part`, png);
renameSync(`${target}.part`, target);
const seconds = ((performance.now() - started) / 1000).toFixed(1);
console.log(`public/demo/site.png: painted, ${Math.round(png.length / 1000)} kB, ${seconds} s`);
