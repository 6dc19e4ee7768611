import { LAYER_NAMES } from '../../editor/index.ts';

/** Words of the layers of the plan. */
export const layers = {
  button: 'Layers',
  hint: 'Show, hide and lock parts of the plan',
  shown: 'Show',
  locked: 'Lock',
  some: (hidden: number, locked: number) =>
    [hidden ? `${hidden} hidden` : '', locked ? `${locked} locked` : ''].filter(Boolean).join(', '),
  all: 'Show and unlock all',
  names: LAYER_NAMES,
} as const;
