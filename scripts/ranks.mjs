/**
 * Proves the import ranks: runs dependency-cruiser with the rules of .dependency-cruiser.cjs on what is named on
 * the command line. Its swc parser reads .tsx files as plain TypeScript and fails on them; here it is told better.
 */
import { createRequire } from 'node:module';

const swc = createRequire(import.meta.url)('@swc/core');
const parseFileSync = swc.parseFileSync.bind(swc);
swc.parseFileSync = (file, options) => parseFileSync(file, { ...options, tsx: file.endsWith('.tsx') });

await import('../node_modules/dependency-cruiser/bin/dependency-cruise.mjs');
