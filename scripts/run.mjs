import { spawn } from 'node:child_process';
import { existsSync, statSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';

/** Top folder of the project. Nothing in this file needs an installed package. */
export const ROOT = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '..');

const NODE_WANTED = [20, 19];

/** Runs a command in the project's folder with its output shown; gives its exit code (127: not found). */
export function run(command, args, { env = {} } = {}) {
  return new Promise((resolve) => {
    const child = spawn(command, args, {
      cwd: ROOT,
      stdio: ['ignore', 'inherit', 'inherit'],
      env: { ...process.env, ...env },
      shell: process.platform === 'win32' && command === 'npm',
    });
    child.on('error', (error) => {
      console.error(`Could not run ${command}: ${error.message}`);
      resolve(127);
    });
    child.on('close', (code, signal) => resolve(code ?? (signal ? 1 : 0)));
  });
}

/** Runs a script with this Node. */
export function runNode(args, options) {
  return run(process.execPath, args, options);
}

/** What to say when this Node is too old; null when it will do. */
export function nodeComplaint(version = process.versions.node) {
  const [major = 0, minor = 0] = version.split('.').map(Number);
  const [wantMajor, wantMinor] = NODE_WANTED;
  if (major > wantMajor || (major === wantMajor && minor >= wantMinor)) return null;
  return `Node ${version} is too old: this needs Node ${wantMajor}.${wantMinor} or newer. Install it and try again.`;
}

/** Whether the packages are missing or older than the list that says which they are. */
export function needsInstall() {
  const installed = path.join(ROOT, 'node_modules', '.package-lock.json');
  if (!existsSync(installed)) return true;
  return statSync(path.join(ROOT, 'package-lock.json')).mtimeMs > statSync(installed).mtimeMs;
}

/** Installs the packages when needed. Gives true when they are there. */
export async function ensureInstalled() {
  if (!needsInstall()) return true;
  console.log('Installing the packages listed in package-lock.json (npm ci) ...');
  const code = await run('npm', ['ci', '--no-audit', '--no-fund']);
  if (code === 0) return true;
  console.error(
    [
      '',
      `The packages could not be installed (npm ci ended with ${code}; its own message is above).`,
      'Check that this machine reaches the npm registry and that the disk is not full, then try again.',
    ].join('\n'),
  );
  return false;
}
