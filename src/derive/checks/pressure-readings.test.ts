import { describe, expect, test } from 'vitest';
import { control, dripline, planOf, PSI, supply } from '../plan-for-tests.ts';
import { studyOf } from '../study.ts';

const told = (staticPsi: number | null, lowPsi: number | null, ownPsi: number | null) => {
  const kpa = (psi: number | null): number | null => (psi === null ? null : psi * PSI);
  const plan = planOf({
    supplies: [supply('V', [0, 0], { pressureKpa: kpa(ownPsi) })],
    controls: [control('C', [0, 0])],
    runs: [
      dripline('R', [
        [0, 0],
        [9, 0],
      ]),
    ],
  });
  const water = { ...plan.water, staticKpa: kpa(staticPsi), lowStaticKpa: kpa(lowPsi) };
  return studyOf({ ...plan, water }).notices.filter(({ rule }) =>
    ['low-static-above-static', 'supply-static-differs'].includes(rule),
  );
};

describe('readings that contradict one another', () => {
  test('the lowest static above the static', () => {
    const [notice] = told(60, 70, null);
    expect(notice).toMatchObject({ rule: 'low-static-above-static', severity: 'warning' });
    expect(notice!.message).toMatch(
      /70\.0 psi, above the static pressure of 60\.0 psi.*Survey under Water service/,
    );
    expect(told(60, 60, null)).toEqual([]);
    expect(told(60, 45, null)).toEqual([]);
    expect(told(null, 45, 60)).toEqual([]);
  });
  test("a supply's own static more than 5 % from the site's", () => {
    const [notice] = told(60, null, 50);
    expect(notice).toMatchObject({ severity: 'info', refs: [{ table: 'supplies', id: 'V' }] });
    expect(notice!.message).toContain("the supply's own reading is used");
    expect(told(60, null, 64)).toHaveLength(1);
    expect(told(60, null, 62)).toEqual([]);
    expect(told(60, null, 58)).toEqual([]);
  });
});
