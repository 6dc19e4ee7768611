import type { UnitSystem } from '../base/quantity.ts';
import { outletsOfPlants } from '../derive/checks/plant-outlets.ts';
import type { Results } from '../derive/results.ts';
import { plantsOf } from '../plan/emitter-plants.ts';
import type { Plan, Plant } from '../plan/records.ts';
import { highest, lowest, shower } from './show.ts';
import type { Row, Schedule } from './table.ts';
import { WORDS } from './words.ts';

/** Tags of one line of the list take at most this many signs, so that no line has to cut one. */
const MOST_SIGNS = 44;

/**
 * Plants of one name and class in a line: their tags, how many, canopies, and emitters to each. A point emitter counts
 * for the plants that it names, never for a neighbour under whose canopy it lies; one that names none for all whose
 * roots it reaches. Plants without one that stand in
 * dripline have the emitters of the dripline in their root zone counted apart, once results are there.
 * @param untagged how many plants have no tag on the drawing for want of room
 */
export function plantSchedule(
  plan: Plan,
  results: Results | null,
  units: UnitSystem,
  untagged = 0,
): Schedule {
  const show = shower(units);
  const words = WORDS.plant;
  const groups = new Map<string, Plant[]>();
  for (const plant of plan.plants) {
    const key = `${plant.plantClass} ${plant.name}`;
    const group = groups.get(key);
    if (group) group.push(plant);
    else groups.set(key, [plant]);
  }
  const fed = emittersByPlant(plan, results);
  const along = results ? driplineByPlant(plan, results) : new Map<string, number>();
  const rows = [...groups.values()].flatMap((plants): Row[] => {
    const { name, plantClass } = plants[0]!;
    const ids = plants.map(({ id }) => id);
    const inDripline = ids.filter((id) => !fed.has(id) && along.has(id));
    const emitters = ids.filter((id) => fed.has(id) || !along.has(id)).map((id) => fed.get(id) ?? 0);
    const counts = [
      ...(emitters.length > 0 ? [spanOf(emitters)] : []),
      ...(inDripline.length > 0 ? [words.inDripline(spanOf(inDripline.map((id) => along.get(id)!)))] : []),
    ];
    const [first, ...more] = tagLines(plants.map(({ id }) => id));
    return [
      {
        cells: [
          first!,
          name || words.classes[plantClass],
          String(plants.length),
          show.span(
            'length',
            plants.map(({ canopyNowM }) => canopyNowM ?? NaN),
          ),
          show.span(
            'length',
            plants.map(({ canopyMatureM }) => canopyMatureM),
          ),
          counts.join(', '),
        ],
      },
      ...more.map((line) => ({ cells: [line, '', '', '', '', ''] })),
    ];
  });
  return {
    title: WORDS.plants,
    ...(untagged > 0 && { note: words.untagged(untagged) }),
    columns: [
      { head: words.tags, align: 'left' },
      { head: words.what, align: 'left' },
      { head: words.count, align: 'right' },
      { head: words.now, align: 'right' },
      { head: words.mature, align: 'right' },
      { head: words.emitters, align: 'right' },
    ],
    rows,
  };
}

function spanOf(counts: readonly number[]): string {
  const [least, most] = [lowest(counts), highest(counts)];
  return least === most ? String(most) : WORDS.outlet.span(String(least), String(most));
}

/** Emitters built into dripline in the root zone of each plant. */
function driplineByPlant(plan: Plan, results: Results): Map<string, number> {
  const found = new Map<string, number>();
  for (const [id, outlets] of outletsOfPlants(plan.plants, results.outlets)) {
    const count = outlets.filter(({ owner }) => owner.table === 'runs').length;
    if (count > 0) found.set(id, count);
  }
  return found;
}

function emittersByPlant(plan: Plan, results: Results | null): Map<string, number> {
  const fed = new Map<string, number>();
  for (const emitter of plan.emitters) {
    for (const id of plantsOf(emitter)) fed.set(id, (fed.get(id) ?? 0) + 1);
  }
  if (!results) return fed;
  // One that names no plant is for whoever has roots there.
  for (const [id, outlets] of outletsOfPlants(plan.plants, results.outlets)) {
    const free = outlets.filter((one) => one.owner.table === 'emitters' && plantsOf(one).length === 0).length;
    if (free > 0) fed.set(id, (fed.get(id) ?? 0) + free);
  }
  return fed;
}

interface Numbered {
  readonly tag: string;
  readonly stem: string;
  /** -1 for a tag that does not end in a number. */
  readonly number: number;
}

function numbered(tag: string): Numbered {
  const [, stem, digits] = /^(.*?)([1-9]\d{0,8})$/.exec(tag) ?? [];
  return digits === undefined ? { tag, stem: tag, number: -1 } : { tag, stem: stem!, number: Number(digits) };
}

/** Tags in order of their numbers, three and more in a row as `P2 to P5`. */
export function tagWords(tags: readonly string[]): string[] {
  const sorted = tags
    .map(numbered)
    .sort((a, b) => (a.stem === b.stem ? a.number - b.number : a.stem < b.stem ? -1 : 1));
  const words: string[] = [];
  for (let i = 0; i < sorted.length;) {
    let last = i;
    const { stem, number } = sorted[i]!;
    const follows = (next: Numbered | undefined): boolean =>
      number >= 0 && next?.stem === stem && next.number === number + (last - i) + 1;
    while (follows(sorted[last + 1])) last++;
    if (last - i >= 2) words.push(WORDS.outlet.span(sorted[i]!.tag, sorted[last]!.tag));
    else words.push(...sorted.slice(i, last + 1).map(({ tag }) => tag));
    i = last + 1;
  }
  return words;
}

function tagLines(tags: readonly string[]): string[] {
  const lines: string[] = [];
  for (const word of tagWords(tags)) {
    const line = lines.at(-1);
    if (line !== undefined && line.length + word.length + 2 <= MOST_SIGNS) {
      lines[lines.length - 1] = `${line}, ${word}`;
    } else {
      if (line !== undefined) lines[lines.length - 1] = `${line},`;
      lines.push(word);
    }
  }
  return lines;
}
