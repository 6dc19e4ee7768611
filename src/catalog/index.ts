export type { Entry, Sourced } from './source.ts';
export * from './tubing.ts';
export * from './outlets.ts';
export * from './controls.ts';
export * from './pipes.ts';
export * from './plants.ts';
