import type { FillNote, HeaderKind } from '../../layout/rows/index.ts';

const directions: Readonly<Record<'contour' | 'long edge' | 'degrees', string>> = {
  contour: 'along the contour',
  'long edge': 'along the long edge',
  degrees: 'in a direction',
};
const headerKinds: Readonly<Record<HeaderKind, string>> = {
  'both ends': 'headers at both ends',
  serpentine: 'one line back and forth',
  none: 'rows only',
};

const zoneParts = { regulator: 'regulator', filter: 'filter', valve: 'valve' } as const;

const rows = (count: number) => `${count} ${count === 1 ? 'row' : 'rows'}`;

/** How figures are shown in the notes. */
export interface Shown {
  rate(mmPerH: number): string;
  length(metres: number): string;
  spacing(metres: number): string;
  pressure(kPa: number): string;
  flow(lph: number): string;
  /** Two flows, or two rates, with so many digits that they do not read alike. */
  flows(a: number, b: number): readonly [string, string];
  rates(a: number, b: number): readonly [string, string];
}

/** Words of filling a bed with rows of dripline, in English. */
export const fill = {
  title: 'Fill the bed with dripline',
  empty: 'Choose a bed to fill it with dripline.',
  noBed: 'There is no bed yet. Draw one in Survey, then choose it here to fill it with dripline.',
  notWhileDrawing: 'Take Select to fill the chosen bed with dripline.',
  bed: 'Bed',
  rowSpacing: 'Between rows',
  emitterSpacing: 'Between emitters',
  direction: 'Rows run',
  directions,
  degrees: 'Direction',
  degreesHint: '0° to the right, 90° straight up, counter-clockwise',
  edge: 'From the edge',
  lowerThird: 'Wider in the lowest third by',
  headers: 'Fed by',
  headerKinds,
  headerTubing: 'Header tubing',
  stagger: 'Emitters of every other row half a spacing on',
  equalise: 'Spread the rows evenly from edge to edge',
  leaveOut: 'Leave out',
  alwaysOut: 'Paving, buildings, holes and lawns inside of the bed are left out anyway.',
  more: 'Tubing, edge, spread',
  soilKnown: 'By the soil',
  soilUnknown: 'The soil is not known (set it in Survey): as for loam',
  yours: 'As chosen here.',
  usual: 'Back to the usual values',
  figures: {
    rows: 'Rows',
    spacing: 'Row spacing as laid',
    lower: 'in the lowest third',
    spread: (asked: string) => `spread evenly (${asked} asked)`,
    length: 'Dripline, on the ground',
    headers: 'Headers',
    emitters: 'Emitters',
    flow: 'Flow, all at rated flow',
    rate: 'Application rate',
    rateTitle: '231 × gph over row spacing × emitter spacing in inches gives in/h; above the lowest third.',
    water: 'Water in the tubing',
  },
  rows,
  pieces: (count: number) => `in ${count} pieces`,
  draw: 'Draw these rows',
  replace: (count: number) => `Replace what lies in the bed (${count} ${count === 1 ? 'run' : 'runs'})`,
  drawn: (count: number, starts: number) =>
    starts === 0
      ? `${rows(count)} drawn. Next: join them to what carries water.`
      : `${rows(count)} drawn. Next: a control set ${starts === 1 ? 'where the supply header starts' : `at each of ${starts} starts`}, or tubing to there.`,
  note(note: FillNote, shown: Shown): string {
    switch (note.kind) {
      case 'dropped':
        return `${note.count} ${note.count === 1 ? 'piece' : 'pieces'} of row shorter than one emitter spacing left out. Plants there need an emitter of their own.`;
      case 'parts':
        return `The bed falls into ${note.count} parts: each needs water at its own start.`;
      case 'through-rows':
        return `${note.headers === 1 ? 'A further header passes' : `${note.headers} further headers pass`} water round notches or what is left out. Rows behind get it through other rows: look at their pressure in Prove.`;
      case 'level':
        return 'No slope is known here: rows follow the long edge. Set levels in Survey for contours.';
      case 'no-lower-third':
        return 'The ground does not fall across the rows: no third is lower, and all spacings are equal.';
      case 'rate-over-intake': {
        const [comes, taken] = shown.rates(note.rateMmPerH, note.intakeMmPerH);
        return `Water comes at ${comes}, faster than the soil takes it in, ${taken} (${note.source}). Water in short cycles with pauses, or take less flow.`;
      }
      case 'over-spread':
        return `More than ${shown.spacing(note.spreadM)} apart leaves dry ground in this soil (${note.source}).`;
      case 'edge':
        return `First row usually ${shown.spacing(note.leastM)} to ${shown.spacing(note.mostM)} from the edge (${note.source}).`;
      case 'up-and-down':
        return `Rows run ${Math.round(note.angleDeg)}° off the contour: water gathers at their low ends (${note.source}).`;
      case 'over-limit':
        return `${rows(note.count)} longer than ${shown.length(note.limitM)}, the most when fed at one end with ${shown.pressure(note.inletKpa)}. Feed both ends, split the rows, or take less flow.`;
      case 'header': {
        const [carries, most] = shown.flows(note.carriesLph, note.flowLph);
        const long =
          note.lengthM === null
            ? ''
            : `, on ${shown.length(note.longestM)} where ${shown.length(note.lengthM)} is usual`;
        return `Headers of ${note.tubing} have to carry up to ${carries}; it carries ${most}${long} (${note.source}). ${note.wider === null ? 'No tubing of the list carries that: split' : `Take ${note.wider}, or split`} the bed into zones.`;
      }
      case 'zone-flow': {
        const limits = note.over
          .map(({ part, mostLph }) => `${zoneParts[part]} ${shown.flow(mostLph)}`)
          .join(', ');
        const who =
          note.control === null
            ? 'No control set is placed; the largest parts of the list pass'
            : `More than passes ${note.control}:`;
        const todo = note.largerParts
          ? 'Choose larger parts there, or split the bed into zones.'
          : `Split the bed into ${note.zones} zones or more, or take less flow.`;
        return `${shown.flow(note.flowLph)} for this bed alone. ${who} ${limits}. ${todo}`;
      }
      case 'plane':
        return 'The ground of this bed is plane: rows along its contour are straight.';
      case 'tees':
        return `${note.count === 1 ? 'One row begins or ends' : `${note.count} rows begin or end`} within the bed, where contours spread or pinch: tees join them to the row beside.`;
      case 'uneven':
        return `Rows lie ${shown.spacing(note.leastM)} to ${shown.spacing(note.mostM)} apart on the ground, as the contours do.`;
      case 'tight-bend':
        return `Dripline bends tighter than ${shown.spacing(note.leastM)} radius at ${note.count} ${note.count === 1 ? 'place' : 'places'} (${note.source}). Set an elbow there, or move the line.`;
      case 'middle-line':
        return `${note.count === 1 ? 'One line runs' : `${note.count} lines run`} along the middle, where a loop has no room.`;
      case 'wide-for-loops':
        return `The bed is ${shown.length(note.widthM)} wide: loops suit beds up to ${shown.length(note.mostM)} (${note.source}).`;
      case 'cut':
        return `${note.count === 1 ? 'One ring is' : `${note.count} rings are`} cut to arcs by paving, buildings, lawn or other stems.`;
      case 'rings-left-out':
        return `${note.count === 1 ? 'One ring has' : `${note.count} rings have`} no room: too near to the stem, or wholly on what is left out.`;
    }
  },
};
