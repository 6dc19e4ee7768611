import type { Plant, PlantKind } from '../records.ts';

type Named = Pick<PlantKind, 'name' | 'plantClass'>;

/** What tells kinds of plants apart: name and class; capitals and blanks do not count. */
export function kindKey({ name, plantClass }: Named): string {
  return `${plantClass}:${name.trim().replace(/\s+/g, ' ').toLowerCase()}`;
}

/** Sizes and water use of a plant or kind. */
export type PlantSizes = Pick<PlantKind, 'canopyNowM' | 'canopyMatureM' | 'rootBallM' | 'waterUse'>;

/** The kind that a plant is of, not counted. */
export function kindOfPlant(plant: Omit<Plant, 'id' | 'at'>): PlantKind {
  const { name, plantClass, canopyNowM, canopyMatureM, rootBallM, waterUse } = plant;
  return { name, plantClass, canopyNowM, canopyMatureM, rootBallM, waterUse, count: null };
}

/** Most plants of a kind that a plan file holds. */
export const MOST_PLANTS = 1e6;

/** Counts together, never above what a plan file holds; what is not counted adds nothing. */
export function countsTogether(a: number | null, b: number | null): number | null {
  return a === null ? b : b === null ? a : Math.min(a + b, MOST_PLANTS);
}

/**
 * One line for each kind: later lines of a kind add their count to the first and fill in what it does not know. A
 * mature canopy that `assumed` names gives way to one that was measured.
 */
export function oneLineEach(
  kinds: readonly PlantKind[],
  assumed: ReadonlySet<PlantKind> = new Set(),
): { readonly kinds: PlantKind[]; readonly assumed: ReadonlySet<PlantKind> } {
  const lines = new Map<string, { kind: PlantKind; assumed: boolean }>();
  for (const kind of kinds) {
    const key = kindKey(kind);
    const line = lines.get(key);
    const guessed = assumed.has(kind);
    if (!line) {
      lines.set(key, { kind, assumed: guessed });
      continue;
    }
    const first = line.kind;
    lines.set(key, {
      kind: {
        ...first,
        canopyMatureM: line.assumed && !guessed ? kind.canopyMatureM : first.canopyMatureM,
        canopyNowM: first.canopyNowM ?? kind.canopyNowM,
        rootBallM: first.rootBallM ?? kind.rootBallM,
        waterUse: first.waterUse ?? kind.waterUse,
        count: countsTogether(first.count, kind.count),
      },
      assumed: line.assumed && guessed,
    });
  }
  const all = [...lines.values()];
  return {
    kinds: all.map(({ kind }) => kind),
    assumed: new Set(all.filter((line) => line.assumed).map(({ kind }) => kind)),
  };
}
