import { describe, expect, test } from 'vitest';
import type { Box } from '../base/point.ts';
import { Table } from '../base/table.ts';
import type { Notice } from '../derive/results.ts';
import { drawPlan, legendOf, SUBJECTS, type Layer } from '../drawing/index.ts';
import { emptyPlan } from '../plan/empty.ts';
import type { Plan, Run } from '../plan/records.ts';
import { composeSheets, MOST_TILES, type SheetOptions } from './compose.ts';
import { fitScale } from './fit-scale.ts';
import type { Page, PaperPart, SheetSet, TextPart } from './page.ts';
import { PAPER_IDS } from './paper.ts';
import { partBox } from './projection.ts';
import { regionsOf } from './regions.ts';
import { SCALES } from './scales.ts';

const LONG = 'A very long name that goes on and on, well beyond any block on any sheet, '.repeat(6).trim();

function planOf(runCount: number, texts: string): Plan {
  const runs = Array.from({ length: runCount }, (_, i): Run => ({
    id: `r${i}`,
    name: `${texts} ${i}`.trim(),
    path: [
      [0, i * 0.3],
      [6, i * 0.3],
    ],
    tubing: 'inline-17',
    inline: { law: 'inline-pc', ratedFlowLph: 2, spacingM: 0.3, firstM: 0.15 },
  }));
  return {
    ...emptyPlan(texts),
    site: {
      name: texts,
      client: texts,
      address: texts,
      drawnBy: texts,
      date: texts,
      notes: texts,
      northDeg: 75,
      contourM: null,
    },
    plants: Table.of([
      {
        id: 'p',
        at: [1, 1],
        name: texts,
        plantClass: 'tree',
        canopyNowM: 1,
        canopyMatureM: 4,
        rootBallM: null,
        waterUse: null,
      },
    ]),
    controls: Table.of([
      {
        id: 'c',
        name: texts,
        at: [0, 0],
        filter: 'screen-155',
        regulator: 'window-0.1-8',
        setKpa: 172,
      },
    ]),
    runs: Table.of(runs),
  };
}

const OPTIONS: SheetOptions = {
  paper: 'letter',
  orientation: 'landscape',
  scale: '1in=10ft',
  units: 'us',
  date: '1 May 2026',
};

function layersOf(plan: Plan): Layer[] {
  return drawPlan(plan, null, {
    units: 'us',
    show: new Set(SUBJECTS),
    colourRange: null,
    photoMetresPerPixel: 0.01,
  });
}

function compose(
  plan: Plan,
  options: Partial<SheetOptions> = {},
  layers = layersOf(plan),
  notices: readonly Notice[] = [],
): SheetSet {
  return composeSheets({
    notices,
    plan,
    layers,
    results: null,
    legend: legendOf(null, 'us', plan),
    options: { ...OPTIONS, ...options },
  });
}

function notice(severity: Notice['severity'], message: string): Notice {
  return { rule: 'sample', severity, message, refs: [] };
}

/** All text that is not part of the drawing itself. */
function borderTexts(page: Page): TextPart[] {
  return page.parts.filter((part: PaperPart) => part.kind === 'text');
}

function crossing(a: Box, b: Box): boolean {
  const slack = 0.05;
  return (
    a.minX < b.maxX - slack && b.minX < a.maxX - slack && a.minY < b.maxY - slack && b.minY < a.maxY - slack
  );
}

describe('lettering keeps its place', () => {
  test.each(PAPER_IDS.flatMap((paper) => [[paper, 'portrait'] as const, [paper, 'landscape'] as const]))(
    '%s %s: no text leaves the frame or runs into another, however long the names',
    (paper, orientation) => {
      for (const texts of [
        'Short',
        LONG,
        'Wwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwww',
      ]) {
        const open = [notice('error', texts), notice('warning', texts)];
        const set = compose(planOf(12, texts), { paper, orientation }, undefined, open);
        const { frame } = regionsOf(paper, orientation);
        for (const page of set.pages) {
          const boxes = borderTexts(page)
            .filter(({ text }) => text !== '')
            .map((part) => ({ text: part.text, box: partBox(part)! }));
          const outside = boxes.filter(
            ({ box }) =>
              box.minX < frame.x ||
              box.maxX > frame.x + frame.w ||
              box.minY < frame.y ||
              box.maxY > frame.y + frame.h,
          );
          expect(outside).toEqual([]);
          const meetings = boxes.flatMap((one, i) =>
            boxes
              .slice(i + 1)
              .filter((other) => crossing(one.box, other.box))
              .map((other) => [one, other]),
          );
          expect(meetings).toEqual([]);
        }
      }
    },
  );

  test('what the title block shortens stands in full among the notes', () => {
    const notes = Array.from({ length: 60 }, (_, i) => `note${i}`).join(' ');
    const plan = { ...planOf(1, 'Short'), site: { ...planOf(1, 'Short').site, notes } };
    const further = compose(plan).pages.slice(1);
    const text = further.flatMap((page) => borderTexts(page).map((part) => part.text)).join(' ');
    for (let i = 0; i < 60; i++) expect(text).toMatch(new RegExp(`note${i}\\b`));
  });
});

describe('nothing is lost in silence', () => {
  test('signs that the font lacks are warned of, once', () => {
    const set = compose(planOf(2, '松 garden'));
    const warned = set.warnings.filter(({ where }) => where === 'lettering');
    expect(warned.length).toBeGreaterThan(0);
    expect(new Set(warned.map(({ what }) => what)).size).toBe(warned.length);
    expect(warned[0]!.what).toContain('松');
  });

  test('an empty plan gives one sheet that says so', () => {
    const set = compose(emptyPlan());
    expect(set.pages).toHaveLength(1);
    expect(borderTexts(set.pages[0]!).map(({ text }) => text)).toContain('Nothing is drawn yet.');
    expect(set.warnings.map(({ what }) => what)).toEqual(['nothing is drawn yet']);
  });

  test('a mark without a place is left out with a warning, the others are drawn', () => {
    const marks = [
      { kind: 'symbol', name: 'dot', at: [NaN, 0], sizeMm: 2, fill: '#010203' },
      { kind: 'symbol', name: 'dot', at: [1, 1], sizeMm: 2, fill: '#010203' },
    ] as const;
    const set = compose(emptyPlan(), {}, [{ name: 'outlets', marks }]);
    expect(set.warnings.map(({ what }) => what)).toEqual(['1 marks have no place that is a number']);
    const clip = set.pages[0]!.parts.find((part) => part.kind === 'clip')!;
    expect(clip.parts).toHaveLength(1);
  });

  test('a legend too long for its block goes on with the schedules', () => {
    const plan = planOf(2, 'Short');
    const legend = Array.from(
      { length: 80 },
      (_, i) => ({ kind: 'mark', sample: { symbols: [] }, words: `sign no. ${i}` }) as const,
    );
    const layers = layersOf(plan);
    const set = composeSheets({ plan, layers, results: null, legend, options: OPTIONS });
    const all = set.pages.flatMap((page) => borderTexts(page).map(({ text }) => text));
    for (const { words } of legend) expect(all.filter((text) => text === words)).toHaveLength(1);
  });

  test('sheets are numbered through and say how many they are', () => {
    const set = compose(planOf(90, 'Short'), { scale: '1in=4ft' });
    expect(set.pages.length).toBeGreaterThan(3);
    expect(set.pages.length).toBeLessThan(MOST_TILES);
    set.pages.forEach((page, i) => {
      const numbers = borderTexts(page).filter(({ text }) =>
        text.endsWith(`${i + 1} of ${set.pages.length}`),
      );
      expect(numbers).toHaveLength(1);
    });
  });
});

describe('schedules on the drawing sheet', () => {
  test('stand below the drawing when there is room, clear of it', () => {
    const set = compose(planOf(4, 'Short'), { paper: '24x36', scale: '1in=20ft' });
    expect(set.pages).toHaveLength(1);
    const [page] = set.pages;
    const { window } = page!.view!;
    const heads = borderTexts(page!).filter(({ text }) => text === 'Runs of tubing');
    expect(heads).toHaveLength(1);
    expect(heads[0]!.at[1]).toBeGreaterThan(window.y + window.h);
  });

  test('take sheets of their own when there is none', () => {
    const set = compose(planOf(60, 'Short'));
    expect(set.pages.length).toBeGreaterThan(1);
    expect(set.pages.at(-1)!.view).toBeNull();
  });
});

describe('the largest scale that fits', () => {
  test.each(['us', 'metric'] as const)(
    '%s: gives one drawing sheet, and the next larger does not',
    (units) => {
      const plan = planOf(40, 'Short');
      const layers = layersOf(plan);
      const scale = fitScale(layers, 'a4', 'portrait', units)!;
      const sheets = (id: (typeof SCALES)[number]['id']): number =>
        compose(plan, { paper: 'a4', orientation: 'portrait', scale: id }).pages.filter((page) => page.view)
          .length;
      expect(sheets(scale.id)).toBe(1);
      const same = SCALES.filter((other) => other.units === units);
      const larger = same[same.indexOf(scale) - 1];
      expect(larger).toBeDefined();
      expect(sheets(larger!.id)).toBeGreaterThan(1);
    },
  );

  test('works from a box, and says when nothing fits', () => {
    const box = { minX: 0, minY: 0, maxX: 15, maxY: 12 };
    expect(fitScale(box, 'letter', 'landscape', 'metric')?.id).toBe('1:100');
    expect(fitScale({ ...box, maxX: 500 }, 'letter', 'landscape', 'us')).toBeNull();
    expect(fitScale([], 'letter', 'landscape', 'us')).toBeNull();
  });
});

describe('open checks', () => {
  const textsOf = (notices: readonly Notice[]): string[] =>
    compose(planOf(2, 'Short'), {}, undefined, notices).pages.flatMap((page) =>
      borderTexts(page).map(({ text }) => text),
    );

  test('have a schedule, and a line in the title block that counts them', () => {
    const texts = textsOf([notice('warning', 'late'), notice('error', 'first'), notice('warning', 'last')]);
    expect(texts).toContain('Open checks at printing');
    const joined = texts.join(' ');
    expect(joined).toContain('1 design error, 2 warnings open: see schedules');
    expect(texts.indexOf('first')).toBeLessThan(texts.indexOf('late'));
    expect(texts.indexOf('late')).toBeLessThan(texts.indexOf('last'));
  });

  test('notes alone are listed without a line; without any there is neither', () => {
    const noted = textsOf([notice('info', 'by the way')]);
    expect(noted).toContain('by the way');
    expect(noted.join(' ')).not.toContain('see schedules');
    expect(textsOf([])).not.toContain('Open checks at printing');
    expect(textsOf([]).join(' ')).not.toContain('see schedules');
  });
});

describe('tags in a crowd', () => {
  const crowd = (plantClass: 'tree' | 'shrub'): Plan => {
    const base = planOf(1, 'Short');
    const one = base.plants.toArray()[0]!;
    const plants = Array.from({ length: 30 }, (_, i) => ({
      ...one,
      id: `P${100 + i}`,
      plantClass,
      name: '',
      at: [1 + i * 0.05, 1] as const,
    }));
    return { ...base, plants: Table.of(plants) };
  };
  const drawnTags = (set: SheetSet): number =>
    set.pages
      .flatMap(({ parts }) => parts)
      .flatMap((part) => (part.kind === 'clip' ? part.parts : []))
      .filter((part) => part.kind === 'text' && /^P1\d\d$/.test(part.text)).length;

  test('shrubs lose theirs, the plant table says how many and keeps the count', () => {
    const set = compose(crowd('shrub'));
    const drawn = drawnTags(set);
    expect(drawn).toBeGreaterThan(0);
    expect(drawn).toBeLessThan(30);
    const texts = set.pages.flatMap((page) => borderTexts(page).map(({ text }) => text));
    expect(texts.join(' ')).toContain(`${30 - drawn} tags are left off the drawing`);
    expect(texts).toContain('P100 to P129');
  });

  test('trees keep theirs', () => {
    expect(drawnTags(compose(crowd('tree')))).toBe(30);
  });
});

describe('schedules on sheets of their own', () => {
  test.each(['a3', 'tabloid', 'a1'] as const)(
    '%s: stand in columns of like height, no cell broken',
    (paper) => {
      const set = compose(planOf(12, 'Short'), { paper, scale: '1in=4ft', units: 'metric' });
      const page = set.pages.find(({ view }) => view === null) ?? set.pages[0]!;
      const found = borderTexts(page);
      const heads = found.filter(({ text }) => text === 'Run');
      expect(new Set(heads.map(({ at }) => at[0])).size).toBeGreaterThanOrEqual(2);
      expect(found.filter(({ text }) => text === '14.2 / 17.0 mm').length).toBeGreaterThanOrEqual(12);
      expect(found.filter(({ text }) => /^built in, every 30 cm$/.test(text))).toHaveLength(12);
    },
  );

  test('a plan without a name is called the same as on the screen', () => {
    const set = compose(planOf(2, ''));
    expect(borderTexts(set.pages[0]!).map(({ text }) => text)).toContain('Unnamed site');
  });
});
