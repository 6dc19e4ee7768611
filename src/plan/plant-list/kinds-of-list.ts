import type { PlantKind } from '../records.ts';
import { shownCell } from './cells.ts';
import type { PlantField } from './columns.ts';
import { kindKey } from './kinds.ts';
import type { Row } from './row.ts';

/** Fields in which rows of one kind must not differ, with their words. */
const SAME = [
  ['canopyMature', 'canopyMatureM', 'mature canopy'],
  ['canopyNow', 'canopyNowM', 'canopy now'],
  ['rootBall', 'rootBallM', 'root ball'],
  ['waterUse', 'waterUse', 'water use'],
] as const;

type Clash = { readonly field: PlantField; readonly what: string; readonly todo: string };

/** What the rows without a place say of kinds, and which of them disagree with an earlier one. */
export class KindsOfList {
  private readonly inList = new Map<string, { row: number; read: Row['read'] }>();
  private readonly inPlan: ReadonlyMap<string, number>;
  private readonly clashes = new Map<number, Clash>();

  constructor(rows: readonly Row[], known: readonly PlantKind[]) {
    this.inPlan = new Map(known.map((kind) => [kindKey(kind), kind.canopyMatureM]));
    for (const { row, read, faults } of rows) {
      if (faults.length > 0 || read.at) continue;
      const key = kindKey(read);
      const earlier = this.inList.get(key);
      if (!earlier) {
        this.inList.set(key, { row, read });
        continue;
      }
      const clash = clashOf(earlier, read);
      if (clash) this.clashes.set(row, clash);
      else this.inList.set(key, { row: earlier.row, read: filledIn(earlier.read, read) });
    }
  }

  /** Mature canopy that the list or the plan gives for the kind of a row. */
  canopyOf(read: Row['read']): number | null {
    const key = kindKey(read);
    return this.inList.get(key)?.read.canopyMatureM ?? this.inPlan.get(key) ?? null;
  }

  clash({ row }: Row): Clash | null {
    return this.clashes.get(row) ?? null;
  }
}

function clashOf(earlier: { row: number; read: Row['read'] }, read: Row['read']): Clash | null {
  for (const [field, key, words] of SAME) {
    const [a, b] = [earlier.read[key], read[key]];
    const same = typeof a === 'number' && typeof b === 'number' ? Math.abs(a - b) < 0.001 : a === b;
    if (a === null || b === null || same) continue;
    const kind = read.name === '' ? `a ${read.plantClass} without a name` : shownCell(read.name);
    return {
      field,
      what: `${kind} stands in row ${earlier.row} already with another ${words}`,
      todo: 'Write the same in both rows, or give this one another name.',
    };
  }
  return null;
}

function filledIn(first: Row['read'], later: Row['read']): Row['read'] {
  return {
    ...first,
    canopyMatureM: first.canopyMatureM ?? later.canopyMatureM,
    canopyNowM: first.canopyNowM ?? later.canopyNowM,
    rootBallM: first.rootBallM ?? later.rootBallM,
    waterUse: first.waterUse ?? later.waterUse,
  };
}
