import { mayTouch, LAYER_HOLDS, LAYER_NAMES, type LayerState, type PlanLayer } from './layers.ts';
import type { Plan, Ref, TableName } from '../plan/records.ts';
import { OPENING } from './opening.ts';

/** One and many of each table, as they are spoken of at the foot. */
const SPOKEN: Readonly<Record<TableName, readonly [string, string]>> = {
  areas: ['area', 'areas'],
  levels: ['level', 'levels'],
  falls: ['measured fall', 'measured falls'],
  laterals: ['old pipe', 'old pipes'],
  heads: ['spray head', 'spray heads'],
  plants: ['plant', 'plants'],
  runs: ['run', 'runs'],
  checkValves: ['check valve', 'check valves'],
  flushEnds: ['flush end', 'flush ends'],
  lineParts: ['line part', 'line parts'],
  fills: ['fill', 'fills'],
  emitters: ['point emitter', 'point emitters'],
  controls: ['control set', 'control sets'],
  supplies: ['supply', 'supplies'],
};

/** How many of what, e.g. "3 plants"; of several tables "3 things". */
export function countedAs(refs: readonly Pick<Ref, 'table'>[]): string {
  const [first] = refs;
  const [one, many] =
    first && refs.every(({ table }) => table === first.table) ? SPOKEN[first.table] : ['thing', 'things'];
  return `${refs.length} ${refs.length === 1 ? one : many}`;
}

export const deletedSaid = (refs: readonly Ref[]): string =>
  `Deleted ${countedAs(refs)}. Undo brings ${refs.length === 1 ? 'it' : 'them'} back.`;

const siteOf = (plan: Plan): string => plan.site.name.trim() || 'a site without a name';

/** What undo took back; `plan` is what is there now. */
export const undoneSaid = (label: string, plan: Plan): string =>
  label === OPENING ? `Back to the plan before: ${siteOf(plan)}` : `Taken back: ${label}`;

/** What redo did once more; `plan` is what is there now. */
export const redoneSaid = (label: string, plan: Plan): string =>
  label === OPENING ? `Opened again: ${siteOf(plan)}` : `Done again: ${label}`;

/** Why some of the records cannot be chosen or changed; null where all can. */
export function heldSaid(layers: LayerState, refs: readonly Pick<Ref, 'table'>[]): string | null {
  const held = refs.find((ref) => !mayTouch(layers, ref));
  if (!held) return null;
  const holds = (layer: PlanLayer) => LAYER_HOLDS[layer].tables.includes(held.table);
  const locked = layers.locked.find(holds);
  if (locked) return `${LAYER_NAMES[locked]} are locked: unlock them under Layers.`;
  const hidden = layers.hidden.find(holds);
  return hidden ? `${LAYER_NAMES[hidden]} are hidden: show them under Layers.` : null;
}
