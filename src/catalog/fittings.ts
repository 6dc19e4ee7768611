import type { Entry } from './source.ts';

/** Loss coefficient K of a fitting on the velocity head of the pipe's bore: loss = K v^2 / 2g. */
export interface Fitting extends Entry {
  readonly lossK: number;
}

const manual = 'EPANET 2.2 User Manual, EPA/600/R-20/133 (2020), table of minor loss coefficients';
const insert = 'common practice: insert fittings narrow the bore; K on the tubing bore 1 to 2.5';

export const FITTINGS = [
  { id: 'globe-valve', name: 'globe valve, open', lossK: 10, source: manual },
  { id: 'angle-valve', name: 'angle valve, open', lossK: 5, source: manual },
  { id: 'swing-check', name: 'swing check valve, open', lossK: 2.5, source: manual },
  { id: 'gate-valve', name: 'gate valve, open', lossK: 0.2, source: manual },
  { id: 'short-elbow', name: 'short-radius elbow', lossK: 0.9, source: manual },
  { id: 'medium-elbow', name: 'medium-radius elbow', lossK: 0.8, source: manual },
  { id: 'long-elbow', name: 'long-radius elbow', lossK: 0.6, source: manual },
  { id: 'elbow-45', name: '45 degree elbow', lossK: 0.4, source: manual },
  { id: 'return-bend', name: 'closed return bend', lossK: 2.2, source: manual },
  { id: 'tee-run', name: 'tee, straight through', lossK: 0.6, source: manual },
  { id: 'tee-branch', name: 'tee, through the branch', lossK: 1.8, source: manual },
  { id: 'entrance', name: 'square entrance', lossK: 0.5, source: manual },
  { id: 'exit', name: 'exit', lossK: 1, source: manual },
  { id: 'insert-coupling', name: 'insert coupling', lossK: 1, source: insert },
  { id: 'insert-tee-run', name: 'insert tee, straight through', lossK: 1, source: insert },
  { id: 'insert-elbow', name: 'insert elbow', lossK: 2, source: insert },
  { id: 'insert-tee-branch', name: 'insert tee, through the branch', lossK: 2.5, source: insert },
] as const satisfies readonly Fitting[];

export type FittingId = (typeof FITTINGS)[number]['id'];

export function fittingById(id: FittingId): Fitting {
  return FITTINGS.find((fitting) => fitting.id === id)!;
}
