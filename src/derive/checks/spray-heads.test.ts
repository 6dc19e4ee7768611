import { describe, expect, test } from 'vitest';
import { UNMEASURED_HEAD } from '../../plan/empty.ts';
import type { Point } from '../../base/point.ts';
import { Table } from '../../base/table.ts';
import type { Head, HeadFate, Plan } from '../../plan/records.ts';
import { control, dripline, lateral, planOf, supply } from '../plan-for-tests.ts';
import { studyOf } from '../study.ts';

const head = (id: string, at: Point, fate: HeadFate, more: Partial<Head> = {}): Head => ({
  ...UNMEASURED_HEAD,
  id,
  at,
  flowLph: 90,
  fate,
  ...more,
});

/** A valve, an old pipe past three heads, drip from its far end; a second valve with a head of its own. */
function site(...fates: readonly HeadFate[]): Plan {
  const places: Point[] = [
    [2, 0],
    [4, 0],
    [6, 0],
  ];
  return {
    ...planOf({
      supplies: [supply('V', [0, 0]), supply('W', [0, 20])],
      laterals: [lateral('V', 'T', [0, 0], [6, 0]), lateral('W', 'Z', [0, 20], [6, 20])],
      controls: [control('C', [6, 0])],
      runs: [
        dripline('R', [
          [6, 0],
          [6, 5],
        ]),
      ],
    }),
    heads: Table.of([
      ...fates.map((fate, i) => head(`H${i + 1}`, places[i]!, fate)),
      head('other', [6, 20], 'keep'),
    ]),
  };
}
const find = (plan: Plan, rule: string) => studyOf(plan).notices.find((notice) => notice.rule === rule);

describe('spray heads on the valve that feeds drip', () => {
  test('capped heads and a tie-in at its control set are well; heads on another valve are no concern', () => {
    const told = studyOf(site('cap', 'cut off', 'tie-in')).notices;
    // The one run of the zone has no flush end.
    expect(told.filter((n) => n.severity !== 'info').map(({ rule }) => rule)).toEqual(['no-flush-end']);
  });
  test('undecided ones are named together', () => {
    const told = find(site('undecided', 'cap', 'undecided'), 'spray-heads-undecided')!;
    expect(told.severity).toBe('error');
    expect(told.refs.map(({ id }) => id)).toEqual(['H1', 'H3']);
    expect(told.message).toContain(
      '2 spray heads on the drip\'s valve ("H1", "H3") are undecided: cap, cut off or make one',
    );
    expect(find(site('undecided'), 'spray-heads-undecided')!.message).toContain('1 spray head on');
  });
  test('with one valve a head of which neither pipe nor zone is known is on that one', () => {
    const plan = site('cap');
    const loose = (more: Partial<Head>): Plan => ({
      ...plan,
      heads: Table.of([head('loose', [30, 30], 'undecided', more)]),
    });
    const one = (of: Plan): Plan => ({
      ...of,
      supplies: of.supplies.without(['W']),
      laterals: of.laterals.without(['W-Z']),
    });
    expect(find(loose({}), 'spray-heads-undecided')).toBeUndefined();
    expect(find(one(loose({})), 'spray-heads-undecided')!.refs.map(({ id }) => id)).toEqual(['loose']);
    expect(find(one(loose({ zone: '9' })), 'spray-heads-undecided')).toBeUndefined();
    expect(find({ ...one(loose({})), runs: Table.of() }, 'spray-heads-undecided')).toBeUndefined();
  });
  test('one that is kept is an error, lawn or bed', () => {
    const plan = site('keep', 'cap');
    const lawn = { ...plan, heads: plan.heads.with(head('H1', [2, 0], 'keep', { waters: 'lawn' })) };
    for (const one of [plan, lawn]) {
      const told = find(one, 'spray-heads-kept')!;
      expect(told).toMatchObject({ severity: 'error', refs: [{ table: 'heads', id: 'H1' }] });
      expect(told.message).toContain('pressure and minutes differ');
      expect(told.source).toContain('La Verkin');
    }
  });
  test('one off the pipe but of the zone of the valve', () => {
    const plan = site();
    const zoned = {
      ...plan,
      supplies: plan.supplies.with(supply('V', [0, 0], { zone: '3' })),
      heads: Table.of([
        head('far', [30, 30], 'keep', { zone: '3' }),
        head('no', [31, 30], 'keep', { zone: '4' }),
      ]),
    };
    expect(find(zoned, 'spray-heads-kept')!.refs.map(({ id }) => id)).toEqual(['far']);
  });
  test('a tie-in without a control set, unless one stands before it', () => {
    expect(find(site('tie-in', 'cap'), 'tie-in-without-control')!.refs.map(({ id }) => id)).toEqual(['H1']);
    const plan = site('tie-in', 'cap');
    const atValve = { ...plan, controls: Table.of([control('C', [0, 0])]) };
    expect(find(atValve, 'tie-in-without-control')).toBeUndefined();
  });
});
