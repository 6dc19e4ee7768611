import { mkdir, rm } from 'node:fs/promises';
import path from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { build } from 'vite';

const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '..');

/** Folder in which a bench keeps what it builds. */
export const builtIn = (bench) => path.join(root, 'node_modules', '.cache', bench);

/**
 * Builds modules for Node as the browser gets them, not run through a development transform.
 * @param bench name of the bench, for its folder
 * @param modules paths from the project's root by name
 */
export async function buildCore(bench, modules) {
  const outDir = builtIn(bench);
  await rm(outDir, { recursive: true, force: true });
  await mkdir(outDir, { recursive: true });
  const input = Object.entries(modules).map(([name, file]) => [name, path.join(root, file)]);
  await build({
    root,
    configFile: false,
    logLevel: 'error',
    build: {
      ssr: true,
      outDir,
      emptyOutDir: false,
      target: 'es2023',
      rollupOptions: {
        input: Object.fromEntries(input),
        output: { entryFileNames: '[name].mjs' },
      },
    },
  });
}

/** A module that `buildCore` has built. */
export const openCore = (bench, name) => import(pathToFileURL(path.join(builtIn(bench), `${name}.mjs`)).href);
