import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { tieInEdits, tieInsOf } from './lateral/index.ts';
import { change } from '../../plan/edits/index.ts';
import { readSurvey } from '../../plan/file.ts';
import type { Plan } from '../../plan/records.ts';
import { decidedOf, headsOf, takeBack } from './decided.ts';

const survey = (): Plan => {
  const url = new URL('../../../tests/fixtures/survey-tree.json', import.meta.url);
  const read = readSurvey(readFileSync(url, 'utf8'));
  if (!read.ok) throw new Error(read.problem.what);
  return read.value.plan;
};
const zoneOf = (plan: Plan) => tieInsOf(plan)[0]!;

describe('what was decided, read back from the plan', () => {
  test('nothing at first', () => {
    const plan = survey();
    expect(decidedOf(plan, zoneOf(plan))).toEqual({ tieIn: null, any: false });
  });

  test('every candidate is known again once its edits are kept, and can be taken back', () => {
    const plan = survey();
    const { candidates } = zoneOf(plan);
    expect(candidates.length).toBeGreaterThan(5);
    for (const tieIn of candidates.filter(({ isValve }) => !isValve)) {
      const kept = tieInEdits(plan, tieIn).apply(plan);
      const decided = decidedOf(kept, zoneOf(kept));
      expect(decided.tieIn?.id, tieIn.id).toBe(tieIn.id);
      const back = takeBack('', kept, zoneOf(kept)).apply(kept);
      expect([...back.heads].every(({ fate }) => fate === 'undecided')).toBe(true);
      expect([...back.laterals].every(({ fate }) => fate === 'undecided')).toBe(true);
    }
  });

  test('a cap changed by hand leaves the tie-in known; heads set by hand alone are told', () => {
    const plan = survey();
    const best = zoneOf(plan).candidates[0]!;
    const kept = change('', 'heads', ['H1'], { fate: 'keep' }).apply(tieInEdits(plan, best).apply(plan));
    expect(decidedOf(kept, zoneOf(kept)).tieIn?.id).toBe(best.id);
    const byHand = change('', 'heads', ['H1'], { fate: 'cap' }).apply(plan);
    expect(decidedOf(byHand, zoneOf(byHand))).toEqual({ tieIn: null, any: true });
  });

  test('kept heads stay kept when the rest is taken back', () => {
    const plan = survey();
    const kept = change('', 'heads', ['H1'], { fate: 'keep' }).apply(
      tieInEdits(plan, zoneOf(plan).candidates[0]!).apply(plan),
    );
    const back = takeBack('', kept, zoneOf(kept)).apply(kept);
    expect(back.heads.get('H1')!.fate).toBe('keep');
    expect(back.heads.get('H6')!.fate).toBe('undecided');
    expect(headsOf(kept, zoneOf(kept)).map(({ id }) => id)).toEqual(['H1', 'H2', 'H3', 'H4', 'H5', 'H6']);
  });
});
