import { describe, expect, test } from 'vitest';
import { demoPlan } from '../../src/app/demo-plan.ts';
import { formatQuantity } from '../../src/base/quantity.ts';
import { fitPhoto, studyOf } from '../../src/derive/index.ts';
import { drawPlan, legendOf, SHEET_SHOW } from '../../src/drawing/index.ts';
import { composeSheets, fitScale, writePdf } from '../../src/sheet/index.ts';
import { readPdf, testFonts } from './read-pdf.ts';

/** The sample plan from its records through the solver to the lines of its printed schedules. */
describe('the sample plan on paper', () => {
  const plan = demoPlan('sample-picture');
  const { results } = studyOf(plan);
  const layers = drawPlan(plan, results, {
    units: 'us',
    show: SHEET_SHOW,
    colourRange: null,
    photoMetresPerPixel: fitPhoto(plan.photo!).metresPerPixel,
  });

  test('every computed outlet is one symbol on the drawing', () => {
    const marks = layers.find(({ name }) => name === 'outlets')!.marks;
    expect(results.outlets.length).toBeGreaterThan(50);
    expect(marks).toHaveLength(results.outlets.length);
  });

  test('its schedules carry the pressures that were computed', async () => {
    const scale = fitScale(layers, 'letter', 'landscape', 'us')!;
    const set = composeSheets({
      plan,
      layers,
      results,
      legend: legendOf(results, 'us', plan),
      options: { paper: 'letter', orientation: 'landscape', scale: scale.id, units: 'us', date: '' },
    });
    expect(set.warnings).toEqual([]);
    expect(set.pages.filter((page) => page.view)).toHaveLength(1);
    const pages = await readPdf(await writePdf(set, testFonts(), new Map()));
    const drawn = pages[0]!.texts.map(({ text }) => text);
    for (const { id } of [...plan.plants, ...plan.heads]) expect(drawn).toContain(id);
    expect(drawn).toContain('25 psi, 150 mesh');
    // Emitters 1 and 2 of the header and of the crossing, each as a rim and as letters.
    for (const number of ['1', '2']) expect(drawn.filter((text) => text === number)).toHaveLength(4);
    const tables = pages.slice(1).flatMap((page) => page.texts);
    for (const run of plan.runs) {
      const result = results.runs.get(run.id)!;
      const row = tables.find(({ text }) => text === run.name)!;
      const line = tables.filter(({ y }) => Math.abs(y - row.y) < 0.5).map(({ text }) => text);
      expect(line).toContain(formatQuantity('length', result.lengthM, 'us'));
      expect(line).toContain(formatQuantity('pressure', result.inletKpa, 'us'));
      expect(line).toContain(formatQuantity('pressure', result.worstKpa, 'us'));
      expect(line).toContain(String(result.outletCount));
    }
  });
});
