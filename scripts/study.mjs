/** `npm run study -- FILE [--json]`: studies a plan or survey file in plain Node. See docs/study.md. */
import { existsSync, readFileSync } from 'node:fs';
import path from 'node:path';
import process from 'node:process';
import { nodeComplaint, ROOT } from './run.mjs';

/** npm starts scripts in the package's folder; the person's own folder is in INIT_CWD. */
function found(file) {
  const places = [process.env.INIT_CWD ?? process.cwd(), process.cwd()].map((from) =>
    path.resolve(from, file),
  );
  return places.find((place) => existsSync(place)) ?? places[0];
}

/** Messages for a person in place of the system's codes. */
function readText(file) {
  const place = found(file);
  try {
    return readFileSync(place, 'utf8');
  } catch (error) {
    const messages = {
      ENOENT: `there is no file ${place}`,
      EISDIR: `${place} is a folder`,
      EACCES: `${place} may not be read`,
    };
    throw new Error(messages[error.code] ?? error.message, { cause: error });
  }
}

async function main() {
  const complaint = nodeComplaint();
  if (complaint) {
    console.error(complaint);
    return 2;
  }
  let vite;
  try {
    vite = await import('vite');
  } catch {
    console.error('The packages are not installed: run npm ci, then try again.');
    return 2;
  }
  const { module } = await vite.runnerImport(path.join(ROOT, 'src/app/study-command.ts'), {
    root: ROOT,
    configFile: false,
    logLevel: 'error',
  });
  return module.runStudy(process.argv.slice(2), {
    read: readText,
    out: (text) => process.stdout.write(text),
    error: (text) => process.stderr.write(text),
  });
}

// A reader that closes early, such as `head`, is no fault of ours.
process.stdout.on('error', (error) => {
  if (error.code !== 'EPIPE') throw error;
});
// The code is set, not forced, so that long output is written to its end.
process.exitCode = await main();
