import { spawnSync } from 'node:child_process';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { needsInstall, nodeComplaint, run } from '../scripts/run.mjs';

const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '..');

function start(...args: string[]): { code: number | null; said: string } {
  const ran = spawnSync(process.execPath, ['scripts/start.mjs', ...args], { cwd: root, encoding: 'utf8' });
  return { code: ran.status, said: ran.stderr };
}

describe('npm start', () => {
  test.each([
    [['--port', 'abc'], /"abc" is not a port.*1 to 65535/],
    [['--port', '0'], /"0" is not a port/],
    [['--port=70000'], /"70000" is not a port/],
    [['--port'], /"" is not a port/],
    [['--prot', '3000'], /"--prot" is not an option/],
  ])('%j is refused with what to type', (args, message) => {
    const { code, said } = start(...args);
    expect(code).toBe(1);
    expect(said).toMatch(message);
    expect(said).toContain('npm start -- --port 5000');
  });
});

describe('what the scripts need', () => {
  test('Node 20.19 or newer', () => {
    expect(nodeComplaint('20.19.0')).toBeNull();
    expect(nodeComplaint('22.1.0')).toBeNull();
    expect(nodeComplaint('20.18.3')).toMatch(/20\.18\.3 is too old.*20\.19/);
    expect(nodeComplaint('18.20.0')).toMatch(/too old/);
  });

  test('the packages are there while these tests run', () => expect(needsInstall()).toBe(false));

  test('a command that fails gives its code, one that is missing 127', async () => {
    expect(await run(process.execPath, ['-e', 'process.exit(3)'])).toBe(3);
    expect(await run('no-such-command-here', [])).toBe(127);
  });
});
