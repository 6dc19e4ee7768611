/** Words of the layers of the plan. */
export const layers = {
  button: 'Layers',
  hint: 'Show, hide and lock parts of the plan',
  shown: 'Show',
  locked: 'Lock',
  some: (hidden: number, locked: number) =>
    [hidden ? `${hidden} hidden` : '', locked ? `${locked} locked` : ''].filter(Boolean).join(', '),
  all: 'Show and unlock all',
  names: {
    photo: 'Site photo',
    areas: 'Beds, paving, lawns',
    heights: 'Levels, falls, contours',
    old: 'Old heads and pipe',
    plants: 'Plants',
    drip: 'Drip tubing and outlets',
    supply: 'Valves and control sets',
    names: 'Names and figures',
  },
} as const;
