/** Makes the files that are not kept in the repository but go into the build: fonts, the demo plan's picture. */
import { existsSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { ROOT, runNode } from './run.mjs';

const SCRIPTS = ['scripts/fonts.mjs', 'scripts/demo-picture.mjs'];

/** Runs each script that is there; gives the exit code of the first that fails, or 0. */
export async function makeAssets() {
  for (const script of SCRIPTS) {
    if (!existsSync(path.join(ROOT, script))) continue;
    const code = await runNode([script]);
    if (code !== 0) {
      console.error(`${script} failed; its message is above.`);
      return code;
    }
  }
  return 0;
}

if (process.argv[1] && path.resolve(process.argv[1]) === fileURLToPath(import.meta.url)) {
  process.exitCode = await makeAssets();
}
