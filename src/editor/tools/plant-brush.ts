import type { Point } from '../../base/point.ts';
import { memo } from '../../base/memo.ts';
import {
  addPlants,
  mayStand,
  NO_STROKE,
  standingPlants,
  stroked,
  underBrush,
  type Stroke,
} from '../../layout/plants/index.ts';
import { remove } from '../../plan/edits/index.ts';
import type { Plan } from '../../plan/records.ts';
import { stemSpacing } from '../choices.ts';
import { plantsCounted, withStems } from './plant-row.ts';
import { addedTo, NO_DRAFT, type Draft, type Step, type Tool, type ToolContext } from './tool.ts';

/** States of the brush: lifted, planting, or taking plants away. */
export type Brushing =
  | { readonly name: 'rest' }
  | { readonly name: 'planting'; readonly stroke: Stroke }
  | { readonly name: 'erasing'; readonly last: Point; readonly ids: ReadonlySet<string> };

const REST: Brushing = { name: 'rest' };

const standing = memo((plants: Plan['plants'], spacingM: number) => standingPlants(plants, spacingM));
const ground = memo((areas: Plan['areas'], bedsOnly: boolean) =>
  mayStand({ areas }, bedsOnly ? [...areas].filter(({ use }) => use === 'bed') : null, 0),
);

function drawOn(state: Brushing, at: Point, { plan, choices }: ToolContext): Brushing {
  const { radiusM, bedsOnly } = choices.brush;
  if (state.name === 'planting') {
    const spacingM = stemSpacing(choices);
    const stroke = stroked(
      state.stroke,
      at,
      { spacingM, radiusM },
      standing(plan.plants, spacingM),
      ground(plan.areas, bedsOnly),
    );
    return { name: 'planting', stroke };
  }
  if (state.name === 'erasing') {
    const found = underBrush(plan.plants, state.last, at, radiusM).filter(({ id }) => !state.ids.has(id));
    const ids = found.length ? new Set([...state.ids, ...found.map(({ id }) => id)]) : state.ids;
    return { name: 'erasing', last: at, ids };
  }
  return state;
}

function draftOf(state: Brushing, at: Point, { plan, choices }: ToolContext): Draft {
  const draft: Draft = { ...NO_DRAFT, brush: { at, radiusM: choices.brush.radiusM } };
  if (state.name === 'planting')
    return withStems(draft, { ok: true, points: state.stroke.points }, at, choices);
  if (state.name !== 'erasing') return draft;
  const points = [...state.ids].flatMap((id): Point[] => {
    const plant = plan.plants.get(id);
    return plant ? [plant.at] : [];
  });
  return withStems(draft, { ok: true, points }, at, choices, true);
}

/** Drag to plant, or to take plants away; each stroke is one step. */
export const brushTool: Tool<Brushing> = {
  name: 'brush',
  start: REST,
  handle(state, input, context): Step<Brushing> {
    switch (input.kind) {
      case 'down': {
        if (!context.mayTouch({ table: 'plants', id: '' }))
          return { state, draft: NO_DRAFT, say: 'Plants are locked or hidden. Unlock them under Layers.' };
        const begun: Brushing = context.choices.brush.erase
          ? { name: 'erasing', last: input.at, ids: new Set() }
          : { name: 'planting', stroke: NO_STROKE };
        const next = drawOn(begun, input.at, context);
        return { state: next, draft: draftOf(next, input.at, context) };
      }
      case 'move': {
        const next = drawOn(state, input.at, context);
        return { state: next, draft: draftOf(next, input.at, context) };
      }
      case 'up': {
        const rest = { state: REST, draft: draftOf(REST, input.at, context) };
        if (state.name === 'planting') {
          const { points } = state.stroke;
          if (points.length === 0)
            return {
              ...rest,
              say: context.choices.brush.bedsOnly
                ? 'No plant has room there. The brush plants in beds only, and keeps the spacing to other plants.'
                : 'No plant has room there: the brush keeps the spacing to other plants and off paving.',
            };
          return {
            ...rest,
            keep: addPlants(`Plant ${points.length} with the brush`, points, context.choices.plant),
            select: addedTo('plants'),
            say: `${plantsCounted(points.length)} set.`,
          };
        }
        if (state.name === 'erasing' && state.ids.size > 0) {
          const refs = [...state.ids].map((id) => ({ table: 'plants', id }) as const);
          return {
            ...rest,
            keep: remove(`Take ${state.ids.size} plants away`, refs),
            say: `${plantsCounted(state.ids.size)} taken away.`,
          };
        }
        return rest;
      }
      case 'escape':
        return { state: REST, draft: NO_DRAFT, ...(state.name === 'rest' ? { done: true } : {}) };
      default:
        return { state, draft: NO_DRAFT };
    }
  },
};
