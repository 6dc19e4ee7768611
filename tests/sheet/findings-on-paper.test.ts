import { describe, expect, test } from 'vitest';
import { demoPlan } from '../../src/app/demo-plan.ts';
import { acceptEdit, LIMITS, limitEdit, waiverFor } from '../../src/derive/checks/index.ts';
import { fitPhoto, studyOf } from '../../src/derive/index.ts';
import { drawPlan, legendOf, SHEET_SHOW } from '../../src/drawing/index.ts';
import type { Plan } from '../../src/plan/records.ts';
import { composeSheets, fitScale, writePdf, type Orientation } from '../../src/sheet/index.ts';
import { readPdf, testFonts } from './read-pdf.ts';

/** All words on all sheets, in the order in which they are drawn. */
async function printed(plan: Plan, orientation: Orientation = 'landscape'): Promise<string> {
  const { results, notices } = studyOf(plan);
  const layers = drawPlan(plan, results, {
    units: 'us',
    show: SHEET_SHOW,
    colourRange: null,
    photoMetresPerPixel: fitPhoto(plan.photo!).metresPerPixel,
  });
  const set = composeSheets({
    plan,
    layers,
    results,
    legend: legendOf(results, 'us', plan),
    notices,
    options: {
      paper: 'letter',
      orientation,
      scale: fitScale(layers, 'letter', orientation, 'us')!.id,
      units: 'us',
      date: '',
    },
  });
  const pages = await readPdf(await writePdf(set, testFonts(), new Map()));
  return plain(pages.flatMap(({ texts }) => texts.map(({ text }) => text)).join(' '));
}

/** Without blanks, which lines and pages break at other places. */
const plain = (text: string): string => text.replace(/\s/g, '');

/** The sample plan without its flush ends, an error of design, and with more to say about it. */
function faulty(): Plan {
  const plan = demoPlan('sample-picture');
  return {
    ...plan,
    water: { ...plan.water, backflowZM: null },
    checks: { limits: {}, waivers: [] },
    plants: plan.plants.with(
      ...[...plan.plants].map((plant) => ({ ...plant, canopyMatureM: 1.4 * plant.canopyMatureM })),
    ),
    laterals: plan.laterals.with(...[...plan.laterals].map((pipe) => ({ ...pipe, measured: false }))),
    flushEnds: plan.flushEnds.without([...plan.flushEnds].map(({ id }) => id)),
    lineParts: plan.lineParts.without([...plan.lineParts].map(({ id }) => id)),
    checkValves: plan.checkValves.without([...plan.checkValves].map(({ id }) => id)),
    emitters: plan.emitters.with(...[...plan.emitters].map((one) => ({ ...one, law: 'point-pc' }))),
  };
}

describe('findings on paper', () => {
  test.each(['landscape', 'portrait'] as const)(
    '%s: every open finding is there whole, with its source',
    async (way) => {
      const plan = faulty();
      const text = await printed(plan, way);
      const { notices } = studyOf(plan);
      expect(notices.length).toBeGreaterThan(8);
      for (const { message, source } of notices) {
        expect(text).toContain(plain(message));
        expect(text).toContain(plain(source!));
      }
      expect(text).toContain(plain('1 design error open'));
      expect(text).not.toContain(plain('Accepted as they are'));
      expect(text).not.toContain(plain('Limits of the checks'));
    },
  );

  test('what is accepted moves to its own schedule, with reason and name, and the error is no longer open', async () => {
    const plan = faulty();
    const error = studyOf(plan).notices.find(({ severity }) => severity === 'error')!;
    const reason = Array.from({ length: 60 }, (_, i) => `the old manifold has valve ${i}`)
      .join('; ')
      .slice(0, 1000);
    const made = waiverFor(error, { reason, by: 'A. Sample', everywhere: false });
    if (!made.ok) throw new Error('no waiver');
    const text = await printed(acceptEdit(made.value).apply(plan), 'portrait');
    expect(text).toContain(plain('Accepted as they are'));
    expect(text).toContain(plain(reason));
    expect(text).toContain(plain(error.message));
    expect(text).not.toContain(plain('design error'));
  });

  test('limits that are not the usual ones are printed beside those', async () => {
    const limit = LIMITS.find(({ key }) => key === 'velocity-high.most')!;
    const text = await printed(limitEdit(limit, limit.usual / 2).apply(faulty()));
    expect(text).toContain(plain('Limits of the checks that are not the usual ones'));
    expect(text).toContain(plain(limit.label));
    expect(text).toContain('2.5ft/s5.0ft/s');
  });
});
