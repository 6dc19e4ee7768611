/**
 * `npm test`: installs what is missing, then types, lint, unit tests, build and browser tests. Goes on to the end
 * so that every failure is seen; the last line counts the tests and the failed stages.
 */
import { existsSync, mkdirSync, readFileSync, rmSync } from 'node:fs';
import path from 'node:path';
import process from 'node:process';
import { makeAssets } from './assets.mjs';
import { ensureInstalled, nodeComplaint, ROOT, run, runNode } from './run.mjs';

const REPORTS = path.join(ROOT, '.cache');
const UNIT_REPORT = path.join(REPORTS, 'unit-tests.json');
const BROWSER_REPORT = path.join(REPORTS, 'browser-tests.json');
const bin = (...parts) => path.join('node_modules', ...parts);

const totals = { passed: 0, failed: 0 };
const lines = [];

/** Runs one stage; `work` gives `{ passed, failed, note? }`. */
async function stage(name, work) {
  console.log(`\n=== ${name} ===`);
  const start = performance.now();
  const { passed, failed, note = '' } = await work();
  const seconds = ((performance.now() - start) / 1000).toFixed(1);
  totals.passed += passed;
  totals.failed += failed;
  const counts = passed > 0 ? `${passed} passed, ${failed} failed` : failed > 0 ? 'FAILED' : 'good';
  lines.push(`${name.padEnd(14)} ${seconds.padStart(7)} s  ${counts}${note && `  (${note})`}`);
  return failed === 0;
}

/** A stage without tests of its own: one failure when any of its commands fails. */
async function commands(list) {
  const failed = [];
  for (const [name, ...args] of list) if ((await runNode(args)) !== 0) failed.push(name);
  return { passed: 0, failed: failed.length > 0 ? 1 : 0, note: failed.join(', ') };
}

/** Counts from a report; a command that failed without a failed test counts as one failure. */
function counted(code, reportPath, read) {
  let counts = { passed: 0, failed: 0, skipped: 0 };
  let note = '';
  try {
    counts = read(JSON.parse(readFileSync(reportPath, 'utf8')));
  } catch (error) {
    note = `no report: ${error.message}`;
  }
  if (code !== 0 && counts.failed === 0) {
    counts.failed = 1;
    note ||= 'ended with an error outside of the tests';
  }
  if (counts.passed + counts.failed === 0) {
    counts.failed = 1;
    note ||= 'no tests were found';
  }
  if (counts.skipped > 0) note = [note, `${counts.skipped} skipped`].filter(Boolean).join('; ');
  return { ...counts, note };
}

async function unitTests() {
  rmSync(UNIT_REPORT, { force: true });
  const code = await runNode([
    bin('vitest', 'vitest.mjs'),
    'run',
    '--reporter=default',
    '--reporter=json',
    `--outputFile.json=${UNIT_REPORT}`,
  ]);
  return counted(code, UNIT_REPORT, (report) => {
    // A file that could not be loaded holds no failed test but fails all the same.
    const broken = report.testResults.filter(
      (file) => file.status === 'failed' && !file.assertionResults.some((one) => one.status === 'failed'),
    );
    return {
      passed: report.numPassedTests,
      failed: report.numFailedTests + broken.length,
      skipped: report.numPendingTests + report.numTodoTests,
    };
  });
}

/** Finds a browser, or installs Debian's; gives what is wrong, or null. */
async function browserProblem() {
  const asked = process.env.CHROMIUM_PATH;
  if (asked) return existsSync(asked) ? null : `CHROMIUM_PATH names ${asked}, which does not exist`;
  if (existsSync('/usr/bin/chromium')) return null;
  const help = 'install chromium, or set CHROMIUM_PATH to the browser to be used';
  if (process.getuid?.() !== 0 || !existsSync('/usr/bin/apt-get')) return `no /usr/bin/chromium: ${help}`;
  console.log('Installing chromium for the browser tests (apt-get) ...');
  const env = { DEBIAN_FRONTEND: 'noninteractive' };
  await run('apt-get', ['update', '-qq'], { env });
  await run('apt-get', ['install', '-y', '-qq', '--no-install-recommends', 'chromium'], { env });
  return existsSync('/usr/bin/chromium') ? null : `apt-get did not bring chromium: ${help}`;
}

async function browserTests(built) {
  if (!built) return { passed: 0, failed: 1, note: 'not run, since the build failed' };
  const problem = await browserProblem();
  if (problem) {
    console.error(`Browser tests cannot run: ${problem}.`);
    return { passed: 0, failed: 1, note: problem };
  }
  rmSync(BROWSER_REPORT, { force: true });
  const code = await runNode([bin('@playwright', 'test', 'cli.js'), 'test']);
  return counted(code, BROWSER_REPORT, ({ stats }) => ({
    passed: stats.expected,
    failed: stats.unexpected + stats.flaky,
    skipped: stats.skipped,
  }));
}

function finish() {
  console.log(`\n=== summary ===\n${lines.join('\n')}\n`);
  console.log(`${totals.passed} passed, ${totals.failed} failed`);
  process.exitCode = totals.failed > 0 ? 1 : 0;
}

process.chdir(ROOT);
const complaint = nodeComplaint();
if (complaint) console.error(complaint);
const installed = await stage('install', async () => ({
  passed: 0,
  failed: !complaint && (await ensureInstalled()) ? 0 : 1,
}));
if (installed) {
  mkdirSync(REPORTS, { recursive: true });
  await stage('assets', async () => ({ passed: 0, failed: (await makeAssets()) === 0 ? 0 : 1 }));
  const tsc = bin('typescript', 'bin', 'tsc');
  await stage('types', () =>
    commands([
      ['core', tsc, '-p', 'tsconfig.core.json'],
      ['all', tsc, '-p', 'tsconfig.json'],
    ]),
  );
  await stage('lint', () =>
    commands([
      ['oxlint', bin('oxlint', 'bin', 'oxlint')],
      [
        'folder ranks',
        path.join('scripts', 'ranks.mjs'),
        'src',
        'scripts',
        '--config',
        '.dependency-cruiser.cjs',
      ],
      ['format', bin('prettier', 'bin', 'prettier.cjs'), '--check', '.'],
    ]),
  );
  await stage('unit tests', unitTests);
  const built = await stage('build', () => commands([['vite', bin('vite', 'bin', 'vite.js'), 'build']]));
  await stage('browser tests', () => browserTests(built));
}
finish();
