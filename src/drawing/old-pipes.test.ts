import { describe, expect, test } from 'vitest';
import type { Point } from '../base/point.ts';
import { Table } from '../base/table.ts';
import { emptyPlan, UNMEASURED_HEAD, UNMEASURED_LATERAL, UNMEASURED_SUPPLY } from '../plan/empty.ts';
import type { LateralFate, LateralPipe, Plan } from '../plan/records.ts';
import { drawPlan } from './draw-plan.ts';
import { legendOf } from './legend.ts';
import type { PathMark, Pen, SymbolMark } from './marks.ts';
import { lateralMarks, pipePen } from './old-pipes.ts';
import { SUBJECTS } from './options.ts';

const FATES: readonly LateralFate[] = ['undecided', 'live', 'dead', 'cut off'];

const pipe = (id: string, from: string, to: string, a: Point, b: Point, fate: LateralFate): LateralPipe => ({
  ...UNMEASURED_LATERAL,
  id,
  from,
  to,
  a,
  b,
  fate,
});

/** V - T - E live, with a dead tooth and a cut one at T; the live pieces are drawn against the water. */
function comb(): Plan {
  return {
    ...emptyPlan(),
    supplies: Table.of([{ ...UNMEASURED_SUPPLY, id: 'V', name: '', at: [0, 0] as const }]),
    laterals: Table.of([
      pipe('L1', 'T', 'V', [4, 0], [0, 0], 'live'),
      pipe('L2', 'E', 'T', [8, 0], [4, 0], 'live'),
      pipe('L3', 'T', 'D', [4, 0], [4, 3], 'dead'),
      pipe('L4', 'T', 'C', [4, 0], [4, -3], 'cut off'),
      pipe('L5', 'C', 'F', [4, -3], [6, -3], 'cut off'),
    ]),
  };
}
const marksOf = (plan: Plan) => lateralMarks(plan.laterals, plan.supplies);
const signs = (plan: Plan, name: SymbolMark['name']) =>
  marksOf(plan).filter((mark): mark is SymbolMark => mark.kind === 'symbol' && mark.name === name);

describe('fates of old pipe', () => {
  test('differ without any colour, found or assumed', () => {
    const plain = ({ widthMm, dashMm }: Pen) => JSON.stringify([widthMm, dashMm ?? null]);
    const looks = FATES.flatMap((fate) =>
      [true, false].map((measured) => plain(pipePen({ fate, measured }))),
    );
    expect(new Set(looks).size).toBe(looks.length);
  });

  test('a live pipe is the boldest, a cut one the thinnest', () => {
    const width = (fate: LateralFate) => pipePen({ fate, measured: true }).widthMm;
    expect(width('live')).toBeGreaterThan(width('dead'));
    expect(width('dead')).toBeGreaterThan(width('undecided'));
    expect(width('undecided')).toBeGreaterThan(width('cut off'));
  });

  test('what was not found has long dashes, what was found has none', () => {
    for (const fate of FATES) {
      expect(pipePen({ fate, measured: false }).dashMm![0]).toBeGreaterThanOrEqual(2);
      expect(pipePen({ fate, measured: true }).dashMm?.[0] ?? 0).toBeLessThan(1);
    }
  });

  test('arrows of live pipe point away from the supply, however the piece was drawn', () => {
    const ticks = signs(comb(), 'flowTick');
    expect(ticks.map(({ at }) => at)).toEqual([
      [2, 0],
      [6, 0],
    ]);
    expect(ticks.map(({ turnDeg }) => turnDeg)).toEqual([0, 0]);
  });

  test('live pipe that no supply feeds has no arrow', () => {
    expect(signs({ ...comb(), supplies: Table.of() }, 'flowTick')).toEqual([]);
  });

  test('the cut is marked where the pipe leaves one that stays, strokes elsewhere', () => {
    const plan = comb();
    expect(signs(plan, 'cutMark').map(({ at, owner }) => [owner, at])).toEqual([['laterals/L4', [4, 0]]]);
    expect(signs(plan, 'cutStroke').map(({ at, owner }) => [owner, at])).toEqual([
      ['laterals/L4', [4, -3]],
      ['laterals/L5', [4, -3]],
      ['laterals/L5', [6, -3]],
    ]);
    // Into the pipe, clear of what stands at its end.
    expect(signs(plan, 'cutMark')[0]!.shiftMm![1]).toBeGreaterThan(2);
  });

  test('a dot tells a tee from a crossing', () => {
    expect(signs(comb(), 'dot').map(({ at }) => at)).toEqual([[4, 0]]);
    const crossing = Table.of([
      pipe('L1', 'A', 'B', [0, 0], [4, 0], 'undecided'),
      pipe('L2', 'C', 'D', [2, -2], [2, 2], 'undecided'),
    ]);
    expect(signs({ ...comb(), laterals: crossing }, 'dot')).toEqual([]);
  });

  test('pipes of two zones in one place are not joined', () => {
    const two = Table.of(
      ['1', '2', '3'].map((zone, i) => ({
        ...pipe(`L${i}`, 'M', `E${i}`, [0, 0], [4, i], 'undecided'),
        zone,
      })),
    );
    expect(signs({ ...comb(), laterals: two }, 'dot')).toEqual([]);
  });
});

describe('the legend', () => {
  const plan: Plan = {
    ...comb(),
    heads: Table.of([{ ...UNMEASURED_HEAD, id: 'H1', at: [1, 1] as const, blocked: true }]),
  };
  const entries = legendOf(null, 'us', plan);

  test('names each fate once, the cut and the tee', () => {
    const words = entries.map((entry) => entry.words);
    expect(words).toEqual(
      expect.arrayContaining([
        'existing lateral that carries drip water',
        'existing lateral, joined but dead: still water',
        'existing lateral, cut off',
        'cut the pipe here',
        'tee of the existing lateral',
        'head whose spray is blocked',
      ]),
    );
    expect(new Set(words).size).toBe(words.length);
    expect(words.filter((word) => /measured|assumed/.test(word))).toEqual([]);
  });

  test('explains every line and sign that is drawn', () => {
    const layers = drawPlan(plan, null, {
      units: 'us',
      colourRange: null,
      photoMetresPerPixel: 1,
      show: new Set(SUBJECTS),
    });
    const marks = layers.find(({ name }) => name === 'existing')!.marks;
    const samples = entries.flatMap((entry) => (entry.kind === 'mark' ? [entry.sample] : []));
    const lines = marks.filter((mark): mark is PathMark => mark.kind === 'path');
    expect(lines.length).toBe(5);
    for (const { pen } of lines) expect(samples.map(({ line }) => line)).toContainEqual(pen);
    const symbols = marks.filter((mark): mark is SymbolMark => mark.kind === 'symbol');
    const explained = samples.flatMap((sample) => sample.symbols.map(({ name }) => name));
    for (const { name } of symbols) expect(explained).toContain(name);
  });
});
