import { deflateSync } from 'node:zlib';
import { describe, expect, test } from 'vitest';
import { Table } from '../../src/base/table.ts';
import type { OutletResult, Results } from '../../src/derive/results.ts';
import { drawPlan, legendOf, SUBJECTS, type Layer } from '../../src/drawing/index.ts';
import { emptyPlan } from '../../src/plan/empty.ts';
import type { Plan, PointEmitter, Run } from '../../src/plan/records.ts';
import { composeSheets, writePdf, type SheetOptions, type SheetSet } from '../../src/sheet/index.ts';
import { readPdf, testFonts, type DrawnPage } from './read-pdf.ts';

const MM_PER_POINT = 25.4 / 72;

/** A blank run with emitters at plants and a dripline, all invented. */
function samplePlan(emitterCount: number): Plan {
  const header: Run = {
    id: 'r1',
    name: 'Header Ø 17',
    path: [
      [0, 0],
      [12, 0],
    ],
    tubing: 'blank-half-600',
    inline: null,
  };
  const row: Run = {
    id: 'r2',
    name: 'Row under the olives',
    path: [
      [0, 2],
      [9, 2],
    ],
    tubing: 'inline-17',
    inline: { law: 'inline-plain', ratedFlowLph: 2.3, spacingM: 0.3, firstM: 0.15 },
  };
  const emitters = Array.from({ length: emitterCount }, (_, i): PointEmitter => ({
    id: `e${i}`,
    runId: 'r1',
    at: [(i * 12) / emitterCount, 0],
    plantId: `p${i % 3}`,
    law: 'point-plain',
    ratedFlowLph: 3.8,
  }));
  return {
    ...emptyPlan(),
    site: {
      name: 'Niño & Société garden <A>',
      client: 'Peña',
      address: '12 Invented Street',
      drawnBy: 'A. Sample',
      date: '',
      notes: 'Soil 20 °C, bed 17.1 m², tubing Ø 17, ½ in.',
      northDeg: 20,
      contourM: null,
    },
    plants: Table.of(
      ['Salvia niña', 'Lavanda é', 'Thyme'].map((name, i) => ({
        id: `p${i}`,
        at: [2 + i, 1] as const,
        name,
        plantClass: 'shrub' as const,
        canopyNowM: 0.4,
        canopyMatureM: 1,
        rootBallM: null,
        waterUse: null,
      })),
    ),
    runs: Table.of([header, row]),
    emitters: Table.of(emitters),
  };
}

function resultsOf(plan: Plan): Results {
  const point = plan.emitters.toArray().map((emitter, i): OutletResult => ({
    owner: { table: 'emitters', id: emitter.id },
    runId: emitter.runId,
    number: i + 1,
    at: emitter.at,
    zM: 0,
    plantId: emitter.plantId,
    ratedFlowLph: emitter.ratedFlowLph,
    minKpa: 50,
    maxKpa: 300,
    compensating: false,
    cv: 0.05,
    closingKpa: null,
    tap: emitter.at,
    feederM: 0,
    pressureKpa: 100 + i,
    flowLph: 3.7,
    state: 'good',
  }));
  const inline = Array.from({ length: 30 }, (_, i): OutletResult => ({
    ...point[0]!,
    owner: { table: 'runs', id: 'r2' },
    runId: 'r2',
    number: i + 1,
    at: [0.15 + 0.3 * i, 2],
    plantId: null,
    ratedFlowLph: 2.3,
    pressureKpa: 120 - i,
    flowLph: 2.2,
    state: i === 29 ? 'low' : 'good',
  }));
  const run = { maxVelocityMs: 0.4, highestKpa: 150, inletKpa: 150 };
  return {
    outlets: [...point, ...inline],
    runs: new Map([
      ['r1', { ...run, runId: 'r1', lengthM: 12, outletCount: point.length, flowLph: 100, worstKpa: 100 }],
      ['r2', { ...run, runId: 'r2', lengthM: 9, outletCount: 30, flowLph: 66, worstKpa: 91 }],
    ]),
    zones: [],
    totalFlowLph: 166,
    outletCount: point.length + 30,
    lowestKpa: 91,
    highestKpa: 150,
    meanFlowLph: 3,
    uniformity: null,
    counts: { good: point.length + 29, low: 1, high: 0, dry: 0, apart: 0 },
    lowestOutlet: null,
    highestOutlet: null,
    eu: null,
    us: null,
    supplies: [],
    notices: [],
    solution: {
      headM: new Float64Array(),
      flowM3s: new Float64Array(),
      outletM3s: new Float64Array(),
      converged: true,
      iterations: 3,
      massErrorM3s: 0,
      energyErrorM: 0,
      findings: [],
    },
  };
}

const OPTIONS: SheetOptions = {
  paper: 'a4',
  orientation: 'landscape',
  scale: '1:100',
  units: 'metric',
  date: '3 April 2026',
};

function sheets(plan: Plan, options: Partial<SheetOptions> = {}, extra: Layer[] = []): SheetSet {
  const results = resultsOf(plan);
  const layers = drawPlan(plan, results, {
    units: 'metric',
    show: new Set(SUBJECTS),
    colourRange: null,
    photoMetresPerPixel: 0.01,
  });
  return composeSheets({
    plan,
    layers: [...layers, ...extra],
    results,
    legend: legendOf(results, 'metric', plan),
    options: { ...OPTIONS, ...options },
  });
}

const words = (page: DrawnPage): string => page.texts.map(({ text }) => text).join('\n');

describe('what can be read in the PDF', () => {
  const print = async (): Promise<DrawnPage[]> =>
    readPdf(await writePdf(sheets(samplePlan(8)), testFonts(), new Map()));

  test('title block, scale, caution and the figures of every run', async () => {
    const pages = await print();
    const first = words(pages[0]!);
    for (const text of [
      'Niño & Société garden <A>',
      'Peña',
      '12 Invented Street',
      'A. Sample',
      '3 April 2026',
      '1 : 100',
      `1 of ${pages.length}`,
      'Row under the olives',
      'Header Ø 17',
    ]) {
      expect(first).toContain(text);
    }
    expect(first.replace(/\n/g, ' ')).toContain('Call for utility marking before digging.');
    const all = pages.map(words).join('\n');
    for (const text of [
      '12.00 m',
      '9.00 m',
      '1.50 bar',
      '0.91 bar',
      '30 built in, every 30 cm',
      '1 too low',
    ]) {
      expect(all).toContain(text);
    }
  });

  test('signs beyond plain Latin survive: Ø ² ° ½ é ñ', async () => {
    const all = (await print()).map(words).join(' ');
    for (const sign of ['Ø', '²', '°', '½', 'é', 'ñ']) expect(all).toContain(sign);
  });

  test('every point emitter has a line with its plant; none is lost over many pages', async () => {
    const set = sheets(samplePlan(300));
    const pages = await readPdf(await writePdf(set, testFonts(), new Map()));
    const rows = pages.flatMap((page) => page.texts.filter(({ text }) => /^emitter \d+$/.test(text)));
    const numbers = rows.map(({ text }) => Number(text.slice(8)));
    expect(numbers).toEqual(Array.from({ length: 300 }, (_, i) => i + 1));
    expect(pages.length).toBeGreaterThan(5);
    expect(words(pages.at(-1)!)).toContain('Outlets, continued');
    expect(words(pages[3]!)).toContain(`Sheet 4 of ${pages.length}`);
    // No row stands below the frame's foot.
    for (const { y } of rows) expect(y * MM_PER_POINT).toBeGreaterThan(18);
  });
});

describe('a drawing larger than one sheet', () => {
  const big = (): SheetSet => sheets(samplePlan(8), { paper: 'letter', scale: '1:25' });

  test('is tiled with match lines that name the next sheet, and a key plan', async () => {
    const set = big();
    const drawings = set.pages.filter((page) => page.view);
    expect(drawings.length).toBeGreaterThan(1);
    const [first] = await readPdf(await writePdf(set, testFonts(), new Map()));
    expect(words(first!)).toContain('Match line: see sheet 2');
    expect(words(first!)).toContain('Key plan');
  });

  test('more sheets than anyone would print are refused with a way out; the schedules stay', () => {
    const far: Layer = {
      name: 'labels',
      marks: [{ kind: 'symbol', name: 'dot', at: [90_000, 0], sizeMm: 1 }],
    };
    const set = sheets(samplePlan(8), {}, [far]);
    expect(set.pages.length).toBeGreaterThan(0);
    expect(set.pages.every((page) => page.view === null)).toBe(true);
    expect(set.warnings[0]!.what).toMatch(/would take \d+ sheets/);
    expect(set.warnings[0]!.todo).toContain('smaller scale');
  });
});

/** A PNG file of one grey, made here. Source of the layout: PNG specification (ISO/IEC 15948). */
function greyPng(width: number, height: number): Uint8Array {
  const crcTable = Array.from({ length: 256 }, (_, i) => {
    let c = i;
    for (let k = 0; k < 8; k++) c = c & 1 ? 0xedb88320 ^ (c >>> 1) : c >>> 1;
    return c >>> 0;
  });
  const chunk = (name: string, data: Buffer): Buffer => {
    const body = Buffer.concat([Buffer.from(name, 'latin1'), data]);
    let crc = 0xffffffff;
    for (const byte of body) crc = crcTable[(crc ^ byte) & 255]! ^ (crc >>> 8);
    const size = Buffer.alloc(4);
    size.writeUInt32BE(data.length);
    const sum = Buffer.alloc(4);
    sum.writeUInt32BE((crc ^ 0xffffffff) >>> 0);
    return Buffer.concat([size, body, sum]);
  };
  const head = Buffer.alloc(13);
  head.writeUInt32BE(width, 0);
  head.writeUInt32BE(height, 4);
  head.set([8, 2, 0, 0, 0], 8);
  const rows = Buffer.alloc(height * (1 + 3 * width), 150);
  for (let y = 0; y < height; y++) rows[y * (1 + 3 * width)] = 0;
  const signature = Buffer.from([137, 80, 78, 71, 13, 10, 26, 10]);
  return new Uint8Array(
    Buffer.concat([
      signature,
      chunk('IHDR', head),
      chunk('IDAT', deflateSync(rows)),
      chunk('IEND', Buffer.alloc(0)),
    ]),
  );
}

describe('the site photo', () => {
  const withPhoto = (turnDeg: number): Plan => ({
    ...samplePlan(3),
    photo: {
      pictureId: 'site',
      name: 'site.png',
      widthPx: 400,
      heightPx: 200,
      corner: [1, 3],
      turnDeg,
      assumedWidthM: 4,
      measures: [],
      strength: 0.5,
      rectification: null,
    },
  });
  const file = { bytes: greyPng(40, 20), mediaType: 'image/png', widthPx: 400, heightPx: 200 };

  test.each([0, 30, -90])('turned %s degrees lies where the plan says', async (turnDeg) => {
    const set = sheets(withPhoto(turnDeg));
    const view = set.pages[0]!.view!;
    const [page] = await readPdf(await writePdf(set, testFonts(), new Map([['site', file]])));
    expect(page!.pictures).toHaveLength(1);
    const [a, b, c, d, e, f] = page!.pictures[0]! as [number, number, number, number, number, number];
    // The picture's unit square: (0, 1) is its upper left corner, (1, 1) its upper right one.
    const paper = (u: number, v: number): [number, number] => [
      (a * u + c * v + e) * MM_PER_POINT,
      210 - (b * u + d * v + f) * MM_PER_POINT,
    ];
    const onPaper = (x: number, y: number): [number, number] => [
      view.window.x + view.window.w / 2 + (x - view.middle[0]) * 10,
      view.window.y + view.window.h / 2 - (y - view.middle[1]) * 10,
    ];
    const turn = (turnDeg * Math.PI) / 180;
    const expected = [
      [paper(0, 1), onPaper(1, 3)],
      [paper(1, 1), onPaper(1 + 4 * Math.cos(turn), 3 + 4 * Math.sin(turn))],
      [paper(0, 0), onPaper(1 + 2 * Math.sin(turn), 3 - 2 * Math.cos(turn))],
    ] as const;
    for (const [found, wanted] of expected) {
      expect(found[0]).toBeCloseTo(wanted[0], 2);
      expect(found[1]).toBeCloseTo(wanted[1], 2);
    }
  });

  test.each([
    ['missing', new Map(), 'The site photo is missing.'],
    [
      'of another kind',
      new Map([['site', { ...file, mediaType: 'image/webp' }]]),
      'neither a JPEG nor a PNG',
    ],
    [
      'broken',
      new Map([['site', { ...file, bytes: new Uint8Array([1, 2, 3]) }]]),
      'The site photo cannot be read.',
    ],
  ])('%s: the sheet says so and keeps all else', async (_, pictures, message) => {
    const pages = await readPdf(await writePdf(sheets(withPhoto(0)), testFonts(), pictures));
    expect(words(pages[0]!)).toContain(message);
    expect(words(pages[0]!)).toContain('Header Ø 17');
    expect(words(pages[0]!)).toContain('12 Invented Street');
  });
});
