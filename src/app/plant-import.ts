import type { Problem } from '../base/result.ts';
import type { PlantImport, PlantTable } from '../screen/services.ts';
import { readPlantTable } from './plant-table.ts';

/** The plant list under way: one at a time, kept until it is taken in or dropped. A file that cannot be read is told. */
export function createPlantImport(
  tell: (problem: Problem) => void,
): PlantImport & { open(file: File): Promise<void> } {
  let table: PlantTable | null = null;
  const watchers = new Set<() => void>();
  const put = (next: PlantTable | null) => {
    table = next;
    watchers.forEach((watch) => watch());
  };
  const read = async (file: File, delimiter: string | null) => {
    const found = await readPlantTable(file, delimiter);
    if (found.ok) put(found.value);
    else tell(found.problem);
  };
  return {
    table: () => table,
    subscribe(changed) {
      watchers.add(changed);
      return () => void watchers.delete(changed);
    },
    open: (file) => read(file, null),
    separateBy: async (delimiter) => {
      if (table) await read(table.file, delimiter);
    },
    close: () => put(null),
  };
}
