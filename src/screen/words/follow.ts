import type { FillPattern } from '../../layout/rows/index.ts';
import type { RingChoices } from '../../plan/records.ts';

const patterns: Readonly<Record<FillPattern, string>> = {
  straight: 'straight rows',
  curved: 'rows along curved contours',
  loops: 'loops along the edge',
};
const patternHints: Readonly<Record<FillPattern, string>> = {
  straight: 'For most beds.',
  curved: 'For a slope whose direction turns.',
  loops: 'For narrow beds: every loop is fed from both sides.',
};
const forms: Readonly<Record<RingChoices['form'], string>> = { rings: 'rings', spiral: 'a spiral' };
const canopies: Readonly<Record<RingChoices['canopy'], string>> = {
  now: 'as it is now',
  mature: 'when it is mature',
};

const some = (count: number, one: string, many: string) => `${count} ${count === 1 ? one : many}`;

/** Words of rows that follow their bed, and of rings that follow their tree, in English. */
export const follow = {
  title: 'Rows of this bed',
  text: 'These rows follow the bed: they are drawn anew when its outline, the ground or a value below changes.',
  pattern: 'Pattern',
  patterns,
  patternHints,
  lead: (name: string) => `Lead a header from ${name}`,
  leadFrom: 'Header from',
  nearest: (name: string | null) => (name === null ? 'the nearest' : `the nearest: ${name}`),
  leadFromHint: 'The control set whose valve is to water it.',
  crossings: (count: number) =>
    `The header passes over ${count === 1 ? 'a run' : `runs at ${count} places`} without a joint, because there is no other way: move the control set, or turn the rows.`,
  leadHint: 'The shortest way round paving and buildings; it follows as well.',
  tooFar: (count: number, reach: string) =>
    `${count === 1 ? 'The start is' : `${count} starts are`} more than ${reach} away: lead water there by hand, or set a control set nearer.`,
  sleeve: (length: string) =>
    `The header passes under paving or through a building for ${length}: it needs a sleeve there. Before digging, have buried utilities marked.`,
  label: 'Change rows',
  byHand: 'Some of these rows were changed by hand, so they no longer follow the bed.',
  anew: 'Draw the rows anew',
  keep: 'Keep them as they are',
  keepHint: 'They become plain runs that follow nothing.',
  forget: 'Let go of the rows',
  forgetHint: 'The rows stay as they are, as plain runs, and no longer follow the bed.',
  forgotten: 'The rows are plain runs now.',
  notChanged: 'Not changed:',
  joined: (rows: string, name: string) => `${rows} drawn and joined to ${name}.`,
  method: 'Water the trees with',
  method1: 'Water the tree with',
  methods: { points: 'point emitters', rings: 'rings of dripline' },
  rings: {
    title: (count: number) => (count === 1 ? 'Rings round the tree' : `Rings round ${count} trees`),
    text: (count: number) =>
      `These rings follow ${count === 1 ? 'the tree' : 'their trees'}: they are drawn anew when it moves, its canopy or a value below changes.`,
    notWhileDrawing: 'Take Select to ring the chosen tree with dripline.',
    form: 'As',
    forms,
    canopy: 'Out to the canopy',
    canopies,
    noCanopyNow: 'The canopy as it is now is not measured.',
    spacing: 'Between rings',
    thirds: 'at thirds of the radius',
    clearRows: 'Take away rows inside the rings',
    clearRowsHint:
      'Rows that follow their bed keep half a row spacing away from the outermost ring; they come back when the rings go.',
    trunk: 'Nothing nearer to the stem than',
    draw: 'Draw these rings',
    drawn: (count: number) => `Rings drawn round ${some(count, 'tree', 'trees')}.`,
    replace: (count: number) =>
      `${some(count, 'tree has', 'trees have')} rings already: they are drawn anew.`,
    byHand: (count: number) =>
      count === 1
        ? 'Some of these rings were changed by hand, so they no longer follow the tree.'
        : 'Some of these rings were changed by hand, so they no longer follow their trees.',
    anew: 'Draw the rings anew',
    forget: 'Let go of the rings',
    forgetHint: 'The rings stay as they are, as plain runs, and no longer follow.',
    forgotten: 'The rings are plain runs now.',
    figures: { rings: 'Rings', trees: 'Trees' },
    failed: (count: number) => `${some(count, 'tree is', 'trees are')} left out:`,
  },
};
