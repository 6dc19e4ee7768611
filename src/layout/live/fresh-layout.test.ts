import { describe, expect, test } from 'vitest';
import { studyOf } from '../../derive/study.ts';
import type { Plan } from '../../plan/records.ts';
import { pointsEdit, USUAL_POINTS } from '../points/index.ts';
import { backYard, entryBed } from '../points/plan-for-points-tests.ts';
import { ringDefaults } from '../rings/index.ts';
import { fillDefaults, fillEdit } from '../rows/index.ts';
import { layFill } from './lay.ts';
import { ringEdit } from './ring-edit.ts';

/** What the aids lay by their defaults leaves no error, and no fitting that does not fit, for the person to clear up. */
const SITES = [
  ['entry bed', entryBed()],
  ['back yard', backYard()],
] as const;

function withRows(plan: Plan): Plan {
  return [...plan.areas].reduce((before, { id, use }) => {
    if (use !== 'bed') return before;
    const { choices } = fillDefaults(before, id);
    const laid = layFill(before, { kind: 'bed', areaId: id, choices }, { lead: true });
    if (!laid.ok) throw new Error(laid.problem.what);
    return fillEdit(before, id, laid.value, { replace: true, choices, lead: true }).apply(before);
  }, plan);
}
const withPoints = (plan: Plan): Plan =>
  pointsEdit(plan, [...plan.plants], USUAL_POINTS, 'Place').apply(plan);
const withRings = (plan: Plan): Plan =>
  ringEdit(
    [...plan.plants]
      .filter(({ plantClass }) => plantClass === 'tree')
      .slice(0, 1)
      .map(({ id }) => ({ plantId: id, choices: ringDefaults(plan, id).choices })),
    true,
  ).apply(plan);

const errors = (plan: Plan) =>
  studyOf(plan)
    .notices.filter(({ severity }) => severity === 'error')
    .map(({ rule, message }) => `${rule}: ${message}`);
const rules = (plan: Plan) => studyOf(plan).notices.map(({ rule }) => rule);

describe.each(SITES)('%s, laid out by the defaults', (_, site) => {
  test.each([
    ['rows', withRows],
    ['points', withPoints],
    ['rings and points', (plan: Plan) => withPoints(withRings(plan))],
  ] as const)('%s: no errors', (way, lay) => {
    const plan = lay(site);
    expect(studyOf(plan).results.outlets.length).toBeGreaterThan(10);
    expect(errors(plan)).toEqual([]);
    const said = rules(plan);
    expect(said).not.toContain('dead-end');
    expect(said).not.toContain('joint-size');
    expect(said).not.toContain('joint-adapter');
    // Point tubing that has to pass rings crosses them: that is for the person to see.
    if (way !== 'rings and points') expect(said).not.toContain('runs-cross');
  });
  test('the same with tubing of another size in the headers is told', () => {
    const rows = withRows(site);
    const other = {
      ...rows,
      runs: rows.runs.with(
        ...[...rows.runs].flatMap((run) => (run.inline ? [] : [{ ...run, tubing: 'blank-half-600' }])),
      ),
    };
    expect(rules(other)).toContain('joint-adapter');
  });
});
