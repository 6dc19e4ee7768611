import { distance, type Point, type Ring } from '../../base/point.ts';
import { polygonContains } from '../../base/polygon.ts';
import { addPlants, plantGrid, type Stems } from '../../layout/plants/index.ts';
import { memo } from '../../base/memo.ts';
import type { Area, Plan } from '../../plan/records.ts';
import { stemSpacing, type Choices } from '../choices.ts';
import { plantsCounted, withStems } from './plant-row.ts';
import { addedTo, NO_DRAFT, type Step, type Tool } from './tool.ts';

/** States of planting a surface: a bed under the pointer, or a box under way. */
export type Gridding =
  { readonly name: 'rest' } | { readonly name: 'boxing'; readonly from: Point; readonly rawFrom: Point };

const REST: Gridding = { name: 'rest' };

/** The bed under a place; of several the last one drawn, which lies on top. */
export function bedAt(plan: Pick<Plan, 'areas'>, at: Point): Area | null {
  return (
    plan.areas
      .toArray()
      .findLast(({ use, outline, holes }) => use === 'bed' && polygonContains(outline, holes, at)) ?? null
  );
}

/** Stems in one bed; remembered while the pointer moves over it. */
const inBed = memo(
  (areas: Plan['areas'], plants: Plan['plants'], bed: Area, spacingM: number, grid: Choices['grid']): Stems =>
    plantGrid(
      { areas, plants },
      { outline: bed.outline, holes: bed.holes, beds: null },
      { ...grid, spacingM },
    ),
);

function inBox(plan: Plan, outline: Ring, choices: Choices): Stems {
  const beds = choices.grid.bedsOnly ? [...plan.areas].filter(({ use }) => use === 'bed') : null;
  const { grid } = choices;
  // The edge asked for is that of beds; the box itself is drawn where the outermost stems are to stand.
  return plantGrid(plan, { outline, holes: [], beds, edgeM: 0 }, { ...grid, spacingM: stemSpacing(choices) });
}

const boxRing = ([x0, y0]: Point, [x1, y1]: Point): Ring => [
  [x0, y0],
  [x1, y0],
  [x1, y1],
  [x0, y1],
];

/** A grid of plants: press in a bed to fill it, or drag a box. */
export const gridTool: Tool<Gridding> = {
  name: 'grid',
  start: REST,
  handle(state, input, context): Step<Gridding> {
    const { plan, choices, toleranceM } = context;
    const finish = (stems: Stems): Step<Gridding> => {
      const rest = { state: REST, draft: NO_DRAFT };
      if (!stems.ok) return { ...rest, say: stems.why };
      const count = stems.points.length;
      if (count === 0)
        return {
          ...rest,
          say: 'No plant has room there: set a closer spacing or a smaller edge, or press in a bed.',
        };
      return {
        ...rest,
        keep: addPlants(`Plant a grid of ${count}`, stems.points, choices.plant),
        select: addedTo('plants'),
        say: `${plantsCounted(count)} set.`,
      };
    };
    const stemsIn = (bed: Area) => inBed(plan.areas, plan.plants, bed, stemSpacing(choices), choices.grid);
    switch (input.kind) {
      case 'down': {
        const snap = context.snap(input.at);
        return { state: { name: 'boxing', from: snap.at, rawFrom: input.at }, draft: { ...NO_DRAFT, snap } };
      }
      case 'move': {
        const snap = context.snap(input.at);
        if (state.name === 'boxing' && distance(state.rawFrom, input.at) > 2 * toleranceM) {
          const points = boxRing(state.from, snap.at);
          const draft = { ...NO_DRAFT, lines: [{ points, closed: true, guide: true }], snap };
          return { state, draft: withStems(draft, inBox(plan, points, choices), snap.at, choices) };
        }
        // A press here fills the bed, wherever in it: nothing is caught.
        const bed = bedAt(plan, input.at);
        const draft = bed ? withStems(NO_DRAFT, stemsIn(bed), input.at, choices) : { ...NO_DRAFT, snap };
        return { state, draft };
      }
      case 'up': {
        if (state.name !== 'boxing') return { state, draft: NO_DRAFT };
        if (distance(state.rawFrom, input.at) > 2 * toleranceM)
          return finish(inBox(plan, boxRing(state.from, context.snap(input.at).at), choices));
        const bed = bedAt(plan, state.rawFrom);
        if (!bed)
          return { state: REST, draft: NO_DRAFT, say: 'Press inside a bed to fill it, or drag a box.' };
        return finish(stemsIn(bed));
      }
      case 'escape':
        return { state: REST, draft: NO_DRAFT, ...(state.name === 'rest' ? { done: true } : {}) };
      default:
        return { state, draft: NO_DRAFT };
    }
  },
};
