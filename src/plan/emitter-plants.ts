import type { PointEmitter } from './records.ts';

/** All plants that an emitter waters, its own first. */
export function plantsOf(emitter: Pick<PointEmitter, 'plantId' | 'alsoPlantIds'>): readonly string[] {
  const { plantId, alsoPlantIds = [] } = emitter;
  return plantId === null ? alsoPlantIds : [plantId, ...alsoPlantIds];
}

/** The emitter with these plants and no others, the first its own. */
export function withPlants(emitter: PointEmitter, plantIds: readonly string[]): PointEmitter {
  const [plantId = null, ...also] = [...new Set(plantIds)];
  const { alsoPlantIds: _, ...rest } = emitter;
  return { ...rest, plantId, ...(also.length > 0 && { alsoPlantIds: also }) };
}
