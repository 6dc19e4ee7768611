import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';

/** The rules on folders must fire: each case is a small tree with one import, right or wrong. */

const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '..');
const cruiser = path.join(root, 'scripts/ranks.mjs');
const rules = path.join(root, '.dependency-cruiser.cjs');

interface Verdict {
  /** How many files were looked at. */
  readonly modules: number;
  /** Names of the rules that are broken, and the files that break them. */
  readonly broken: string[];
  readonly files: string[];
}

/** Looks at a tree of files, given by name and text. */
function cruise(files: Record<string, string>): Verdict {
  const tree = mkdtempSync(path.join(tmpdir(), 'ranks-'));
  try {
    for (const [name, text] of Object.entries(files)) {
      mkdirSync(path.dirname(path.join(tree, name)), { recursive: true });
      writeFileSync(path.join(tree, name), text);
    }
    const run = spawnSync(process.execPath, [cruiser, 'src', '--config', rules, '-T', 'json'], {
      cwd: tree,
      encoding: 'utf8',
    });
    const report = JSON.parse(run.stdout) as {
      summary: { violations: { rule: { name: string }; from: string }[]; totalCruised: number };
    };
    const { violations } = report.summary;
    return {
      modules: report.summary.totalCruised,
      broken: [...new Set(violations.map((violation) => violation.rule.name))].sort(),
      files: [...new Set(violations.map((violation) => violation.from))].sort(),
    };
  } finally {
    rmSync(tree, { recursive: true, force: true });
  }
}

/** A tree in which a file of `from` imports a file of `to`. */
function imports(from: string, to: string, kind: 'value' | 'type' = 'value'): Record<string, string> {
  return {
    [`src/${from}/a.ts`]: `import ${kind === 'type' ? 'type ' : ''}{ B } from '../${to}/b.ts';\nexport const a = null as unknown as typeof B;\n`,
    [`src/${to}/b.ts`]: 'export const B = 1;\n',
  };
}

const FOLDERS = [
  'base',
  'hydraulics',
  'catalog',
  'plan',
  'derive',
  'layout',
  'drawing',
  'editor',
  'sheet',
  'screen',
  'app',
];
/** Every import that may not be: the folder in front and those that it must not name. */
const FORBIDDEN: Record<string, string[]> = {
  base: FOLDERS.slice(1),
  hydraulics: FOLDERS.slice(2),
  catalog: ['hydraulics', ...FOLDERS.slice(3)],
  plan: ['hydraulics', ...FOLDERS.slice(4)],
  derive: FOLDERS.slice(5),
  layout: FOLDERS.slice(6),
  drawing: ['layout', ...FOLDERS.slice(7)],
  editor: FOLDERS.slice(8),
  sheet: ['editor', ...FOLDERS.slice(9)],
  screen: FOLDERS.slice(10),
  app: [],
};

describe('import ranks', () => {
  test.each(FOLDERS)('%s: exactly the wrong imports are reported', (from) => {
    const files: Record<string, string> = {};
    for (const to of FOLDERS) {
      files[`src/${to}/b.ts`] = 'export const B = 1;\n';
      files[`src/${from}/to-${to}.ts`] = `import { B } from '../${to}/b.ts';\nexport const c = B;\n`;
    }
    const { broken, files: reported, modules } = cruise(files);
    expect(reported).toEqual(FORBIDDEN[from]!.map((to) => `src/${from}/to-${to}.ts`).sort());
    expect(broken.every((rule) => rule.startsWith(`${from}-imports-only-`))).toBe(true);
    expect(modules).toBe(2 * FOLDERS.length);
  });

  test('an import of types alone counts', () => {
    expect(cruise(imports('catalog', 'hydraulics', 'type')).broken).toEqual([
      'catalog-imports-only-lower-ranks',
    ]);
  });

  test('files with markup are read too', () => {
    const { broken, files } = cruise({
      'src/screen/a.tsx':
        'import { B } from \'../app/b.tsx\';\nexport const A = () => <p className="x">{B}</p>;\n',
      'src/app/b.tsx': 'export const B = <i>b</i>;\n',
    });
    expect(broken).toEqual(['screen-imports-only-lower-ranks']);
    expect(files).toEqual(['src/screen/a.tsx']);
  });

  test('files that import each other are reported', () => {
    const broken = cruise({
      'src/base/a.ts': "import type { B } from './b.ts';\nexport type A = B | null;\n",
      'src/base/b.ts': "import type { A } from './a.ts';\nexport interface B { a: A }\n",
    }).broken;
    expect(broken).toEqual(['no-cycles']);
  });

  test('a new folder is reported', () => {
    expect(
      cruise({ 'src/utils/a.ts': 'export const a = 1;\n', 'src/app/b.ts': "import '../utils/a.ts';\n" })
        .broken,
    ).toContain('known-folders-only');
  });
});

describe('packages stay in their folders', () => {
  const pieces: [name: string, allowed: string, refused: string, rule: string][] = [
    ['konva', 'screen', 'drawing', 'konva-only-in-screen-and-app'],
    ['react', 'app', 'editor', 'konva-only-in-screen-and-app'],
    ['zustand', 'editor', 'derive', 'zustand-only-in-editor-and-screen'],
    ['idb', 'app', 'screen', 'idb-only-in-app'],
    ['comlink', 'app', 'editor', 'idb-only-in-app'],
    ['jspdf', 'sheet', 'app', 'jspdf-only-in-sheet'],
  ];
  const tree = (name: string, folder: string): Record<string, string> => ({
    'package.json': `{"type":"module","dependencies":{"${name}":"1.0.0"}}\n`,
    [`node_modules/${name}/package.json`]: `{"name":"${name}","version":"1.0.0","main":"index.js"}\n`,
    [`node_modules/${name}/index.js`]: 'module.exports = 1;\n',
    [`src/${folder}/a.ts`]: `import x from '${name}';\nexport const a = x;\n`,
  });

  test.each(pieces)('%s is free in %s, not in %s', (name, allowed, refused, rule) => {
    expect(cruise(tree(name, allowed)).broken).toEqual([]);
    expect(cruise(tree(name, refused)).broken).toEqual([rule]);
  });

  test('Node and test packages do not enter the product', () => {
    expect(cruise({ 'src/app/a.ts': "import 'node:fs';\n" }).broken).toEqual(['no-node-in-the-product']);
    const dev = tree('fast-check', 'app');
    dev['package.json'] = dev['package.json']!.replace('dependencies', 'devDependencies');
    expect(cruise(dev).broken).toEqual(['no-development-package-in-the-product']);
  });
});
