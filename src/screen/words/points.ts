const plants = (count: number) => `${count} ${count === 1 ? 'plant' : 'plants'}`;
const emitters = (count: number) => `${count} ${count === 1 ? 'emitter' : 'emitters'}`;

/** Words of placing point emitters at plants, in English. */
export const points = {
  title: 'Point emitters at plants',
  empty:
    'Choose plants to place emitters at them and lead tubing past: drag a box round them with Select, or choose a bed for all of its plants.',
  emptyTouch:
    'Choose plants to place emitters at them and lead tubing past: draw round them with Lasso, or choose a bed for all of its plants.',
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
  emitterAt: 'Emitters sit',
  emitterAts: { plant: 'at the plant', run: 'on the tubing' },
  emitterAtHints: {
    plant:
      'Easy to see and to move; the feeder ages in the sun. A city’s desert garden, trade-offs of drip parts.',
    run: 'Protected, but hard to move; the feeder is open at the plant. A city’s desert garden, trade-offs of drip parts.',
  },
  share: 'Plants may share an emitter',
  shareHint:
    'Two or three perennials or ground covers of one water use that stand close: each keeps its number of emitters, but gets only a part of their water. Common practice.',
  slack: 'Feeders cut longer by',
  slackHint: (source: string) => `Empty: 10 %. ${source}.`,
  slackLabel: 'Change slack of feeders',
  limit: 'Feeders at most',
  limitHint: '6 ft: Arizona cities, public water-saving campaign, design and installation tips.',
  draw: 'Lead tubing past the plants',
  start: 'Tubing begins',
  auto: 'at the nearest control set',
  control: (name: string) => (/^control set/i.test(name) ? `at ${name}` : `at control set ${name}`),
  onSlope: 'Usual on a slope',
  tieIn: 'at tie-in',
  supply: 'at valve',
  replace: (count: number) => `Take away the ${emitters(count)} they have`,
  figures: {
    plants: 'Plants',
    emitters: 'Emitters',
    flow: 'Rated flow',
    tubing: 'New tubing, on the ground',
    feeders: 'Feeders',
    cut: 'Feeders, cut with slack',
    longest: 'Longest feeder',
    begins: 'Begins at',
  },
  run: (count: number) => `${count} ${count === 1 ? 'run' : 'runs'}`,
  together: 'together',
  placed: 'Place these emitters',
  back: 'Usual choices',
  label: 'Place emitters at plants',
  done: (count: number, at: number) => `${emitters(count)} placed at ${plants(at)}.`,
  workOut: 'Work it out',
  workOutText: (count: number) =>
    `Places and tubing for ${plants(count)} take a moment: choose how, then have them worked out.`,
  moveOut: 'Move emitters out to the mature canopy',
  moveOutHint:
    'Each to two thirds of the mature canopy’s radius, as many as there are, on the nearest tubing of their zone. Shared ones stay.',
  nothingToMove: 'No emitter of these plants would come further out.',
  moved: (count: number) => `${emitters(count)} moved out.`,
  movedFar: (count: number, length: string) =>
    `${emitters(count)} moved out; the longest feeder now bridges ${length}: lead tubing nearer.`,
  seat: 'It sits',
  differ: 'mixed',
  seats: { plant: 'at the plant', run: 'on the tubing, feeder open at the plant' },
  seatHints: {
    plant: 'At the end of its feeder: easy to see and to move.',
    run: 'Protected, but hard to move. The water meets the same: the feeder runs full behind it.',
  },
  seatHeld: 'Feeders of others start here, so it sits at the plant: behind an emitter there is no pressure.',
  seatLabel: 'Change where emitters sit',
  oneFeeder: 'Hang on one feeder',
  oneFeederHint: (source: string) => `From the nearest run to one after the other. Usual: ${source}.`,
  apart: 'A feeder for each',
  rehang: 'Hang on the nearest tubing',
  tooMany: (most: number) => `One feeder takes ${most} emitters at the most: choose fewer.`,
  hangsOn: 'Hangs on',
  starts: 'Feeder starts',
  atRun: 'at the run',
  atEmitter: (id: string) => `at emitter ${id}`,
  feeder: 'Feeder, laid / cut',
  laidAndCut: (laid: string, cut: string) => `${laid} / ${cut}`,
  tube: 'Its feeder tube',
  tubeOf: (count: number, flow: string, length: string) => `${emitters(count)}, ${flow}, up to ${length}`,
  unshare: (id: string) => `No longer for ${id}`,
  unshareLabel: 'Take plant from emitter',
  shareTitle: 'Share an emitter',
  shareLabel: 'Share this emitter',
  shareText: (count: number) =>
    `${count === 1 ? 'The chosen plant gets' : `The ${count} chosen plants get`} water from the chosen emitter too.`,
  sharedAlready: 'The chosen emitter waters these plants already.',
  shareFar: (ids: string) => `It lies outside the root zone of ${ids}: its water will hardly get there.`,
  more: (count: number) => `and ${count} more`,
} as const;
