import type { PointEmitter } from './records.ts';

/** All plants that an emitter waters, its own first. */
export function plantsOf(emitter: Pick<PointEmitter, 'plantId' | 'alsoPlantIds'>): readonly string[] {
  const { plantId, alsoPlantIds = [] } = emitter;
  return plantId === null ? alsoPlantIds : [plantId, ...alsoPlantIds];
}
