import { spawnSync } from 'node:child_process';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';

/** The script as a person starts it: in plain Node, from another folder. */

const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '../..');

function study(args: readonly string[], env: Record<string, string> = {}, cwd = root) {
  const { INIT_CWD: _, ...rest } = process.env;
  return spawnSync(process.execPath, [path.join(root, 'scripts/study.mjs'), ...args], {
    cwd,
    env: { ...rest, ...env },
    encoding: 'utf8',
  });
}

describe('npm run study', () => {
  test('gives JSON alone on the standard output; the path starts where the person stands', () => {
    const fromFixtures = study(['survey-small.json', '--json'], {
      INIT_CWD: path.join(root, 'tests/fixtures'),
    });
    expect(fromFixtures.stderr).toBe('');
    expect(fromFixtures.status).toBe(0);
    expect(JSON.parse(fromFixtures.stdout)).toMatchObject({ existing: { headCount: 4 } });
  });

  test('tells a missing file and a wrong command by exit code', () => {
    const missing = study(['no-such-file.json'], {}, path.join(root, 'tests'));
    expect([missing.status, missing.stdout]).toEqual([1, '']);
    expect(missing.stderr).toContain('no-such-file.json');
    expect(study([]).status).toBe(2);
  });
});
