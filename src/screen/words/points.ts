const plants = (count: number) => `${count} ${count === 1 ? 'plant' : 'plants'}`;
const emitters = (count: number) => `${count} ${count === 1 ? 'emitter' : 'emitters'}`;

/** Words of placing point emitters at plants, in English. */
export const points = {
  title: 'Point emitters at plants',
  empty:
    'Choose plants to place emitters at them and lead tubing past: drag a box round them with Select, or choose a bed for all of its plants.',
  noPlants: 'There are no plants yet. Place them here or in Survey; then emitters can be placed at them.',
  notWhileDrawing: 'Take Select to place emitters at the chosen plants.',
  bed: (count: number) =>
    count === 0
      ? 'No plant stands in this bed.'
      : `${plants(count)} ${count === 1 ? 'stands' : 'stand'} in this bed.`,
  choose: (count: number) => `Choose ${count === 1 ? 'it' : `all ${count}`}`,
  chooseAll: (count: number) => `Choose all ${plants(count)}`,
  count: 'Emitters a plant',
  countHint: 'Empty: by class, canopy and soil.',
  usual: 'usual',
  size: (name: string) => `Size, ${name}`,
  place: 'They stand',
  places: { now: 'for the plant now', mature: 'for the grown plant' },
  placeHints: {
    now: 'At the edge of the present canopy, or 12 in from the stem where that is not measured; at least 6 in. Extension guidance, seen in copies.',
    mature:
      'At two thirds of the mature canopy’s radius: common practice. A young root ball may stay dry there.',
  },
  limit: 'Feeders at most',
  limitHint: '6 ft: Arizona cities, public water-saving campaign, design and installation tips.',
  draw: 'Lead tubing past the plants',
  start: 'Tubing begins',
  auto: 'at the nearest control set',
  control: 'at control set',
  tieIn: 'at tie-in',
  supply: 'at valve',
  replace: (count: number) => `Take away the ${emitters(count)} they have`,
  figures: {
    plants: 'Plants',
    emitters: 'Emitters',
    flow: 'Rated flow',
    tubing: 'New tubing, on the ground',
    feeders: 'Feeders',
    longest: 'Longest feeder',
    begins: 'Begins at',
  },
  run: (count: number) => `${count} ${count === 1 ? 'run' : 'runs'}`,
  together: 'together',
  placed: 'Place these emitters',
  back: 'Usual choices',
  label: 'Place emitters at plants',
  done: (count: number, at: number) => `${emitters(count)} placed at ${plants(at)}.`,
  more: (count: number) => `and ${count} more`,
} as const;
