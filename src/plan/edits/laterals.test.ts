import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { distance, type Path, type Point } from '../../base/point.ts';
import { Table } from '../../base/table.ts';
import { emptyPlan, UNMEASURED_HEAD, UNMEASURED_LATERAL, UNMEASURED_SUPPLY } from '../empty.ts';
import type { LateralPipe, Plan } from '../records.ts';
import { ONE_JOINT_M, STANDS_ON_M, zonesAgree } from '../joining.ts';
import { endsOf } from './lateral-ends.ts';
import {
  add,
  addLaterals,
  bendLateral,
  duplicated,
  insertVertex,
  move,
  moveLateralEnd,
  moveVertex,
  remove,
  splitLateral,
  type Edit,
} from './index.ts';

const FIELDS = UNMEASURED_LATERAL;
const KNOWN = { ...FIELDS, size: '3/4', material: 'PVC Class 200', depthM: 0.3 };
const supply = (id: string, at: Point, zone: string | null = null) => ({
  ...UNMEASURED_SUPPLY,
  id,
  name: id,
  at,
  zone,
});
const head = (id: string, at: Point) => ({ ...UNMEASURED_HEAD, id, at });

/** A valve at the origin and heads at (4, 0), (4, 3) and (8, 0). */
function site(): Plan {
  return {
    ...emptyPlan(),
    supplies: Table.of([supply('V1', [0, 0])]),
    heads: Table.of([head('H1', [4, 0]), head('H2', [4, 3]), head('H3', [8, 0])]),
  };
}
const edits = (plan: Plan, ...all: Edit[]): Plan => all.reduce((now, edit) => edit.apply(now), plan);
const pieces = (plan: Plan): string[] =>
  [...plan.laterals].map(({ from, to, a, b }) => `${from} ${a.join(',')} - ${to} ${b.join(',')}`);
const names = (plan: Plan): string[] => [...plan.laterals].map(({ from, to }) => `${from}-${to}`);

describe('tracing a lateral', () => {
  test('each straight part is a piece, named by what stands at its ends', () => {
    const plan = addLaterals(
      '',
      [
        [0, 0],
        [2, 0],
        [4, 0],
        [4, 3],
      ],
      KNOWN,
    ).apply(site());
    expect(pieces(plan)).toEqual(['V1 0,0 - N1 2,0', 'N1 2,0 - H1 4,0', 'H1 4,0 - H2 4,3']);
    expect([...plan.laterals].map(({ id }) => id)).toEqual(['L1', 'L2', 'L3']);
    expect(plan.laterals.get('L2')).toMatchObject({ size: '3/4', material: 'PVC Class 200', depthM: 0.3 });
  });

  test('half a foot from a head is at the head, a hand further is not', () => {
    const near = addLaterals(
      '',
      [
        [0, 0],
        [3.85, 0],
      ],
      FIELDS,
    ).apply(site());
    expect(pieces(near)).toEqual(['V1 0,0 - H1 4,0']);
    const far = addLaterals(
      '',
      [
        [0, 0],
        [3.84, 0],
      ],
      FIELDS,
    ).apply(site());
    expect(pieces(far)).toEqual(['V1 0,0 - N1 3.84,0']);
  });

  test('a tooth that begins on the middle of the header cuts it there', () => {
    const plan = edits(
      site(),
      addLaterals(
        '',
        [
          [0, 0],
          [8, 0],
        ],
        KNOWN,
      ),
      addLaterals(
        '',
        [
          [6, 0.001],
          [6, 3],
        ],
        FIELDS,
      ),
    );
    expect(pieces(plan)).toEqual(['V1 0,0 - N1 6,0', 'N1 6,0 - H3 8,0', 'N1 6,0 - N2 6,3']);
    expect(plan.laterals.get('L2')).toMatchObject({ size: '3/4', material: 'PVC Class 200', depthM: 0.3 });
  });

  test('a tee where a head stands is called after the head', () => {
    const plan = edits(
      site(),
      addLaterals(
        '',
        [
          [0, 0],
          [8, 0],
        ],
        FIELDS,
      ),
      addLaterals(
        '',
        [
          [4, 0],
          [4, 3],
        ],
        FIELDS,
      ),
    );
    expect(names(plan)).toEqual(['V1-H1', 'H1-H3', 'H1-H2']);
  });

  test('a header drawn over the ends of teeth is cut at each of them', () => {
    const plan = edits(
      site(),
      addLaterals(
        '',
        [
          [2, 0],
          [2, 3],
        ],
        FIELDS,
      ),
      addLaterals(
        '',
        [
          [6, 3],
          [6, 0],
        ],
        FIELDS,
      ),
      addLaterals(
        '',
        [
          [0, 0],
          [8, 0],
        ],
        FIELDS,
      ),
    );
    expect(names(plan)).toEqual(['N1-N2', 'N3-N4', 'V1-N1', 'N1-N4', 'N4-H3']);
  });

  test('a chain that comes back to its own start closes a ring', () => {
    const plan = addLaterals(
      '',
      [
        [0, 0],
        [4, 0],
        [4, 3],
        [0, 3],
        [0, 0],
      ],
      FIELDS,
    ).apply(site());
    expect(names(plan)).toEqual(['V1-H1', 'H1-H2', 'H2-N1', 'N1-V1']);
  });

  test('a chain may end on the middle of its own first piece', () => {
    const plan = addLaterals(
      '',
      [
        [0, 0],
        [8, 0],
        [8, 3],
        [6, 3],
        [6, 0],
      ],
      FIELDS,
    ).apply(site());
    expect(names(plan).toSorted()).toEqual(['H3-N1', 'N1-N2', 'N2-N3', 'N3-H3', 'V1-N3'].toSorted());
  });

  test('what has no length, is there already or is no number changes nothing', () => {
    const before = addLaterals(
      '',
      [
        [0, 0],
        [4, 0],
      ],
      FIELDS,
    ).apply(site());
    for (const path of [
      [],
      [[0, 0]],
      [
        [0, 0],
        [0, 0],
      ],
      [
        [0, 0],
        [0.1, 0],
      ],
      [
        [4, 0],
        [0, 0],
      ],
      [
        [0, 0],
        [NaN, 1],
      ],
      [
        [0, 0],
        [Infinity, 1],
      ],
    ] as Path[]) {
      expect(addLaterals('', path, FIELDS).apply(before), JSON.stringify(path)).toBe(before);
    }
  });

  test('an end without a name gets one, with all that lies there', () => {
    const nameless: LateralPipe = { ...FIELDS, id: 'L1', from: '', to: '', a: [0, 5], b: [3, 5] };
    const second: LateralPipe = { ...FIELDS, id: 'L2', from: '', to: 'E', a: [3, 5], b: [3, 9] };
    const plan = addLaterals(
      '',
      [
        [3, 5],
        [6, 5],
      ],
      FIELDS,
    ).apply({
      ...site(),
      laterals: Table.of([nameless, second]),
    });
    expect(names(plan)).toEqual(['-N1', 'N1-E', 'N1-N2']);
  });
});

describe('zones', () => {
  /** A manifold: two valves in one place. */
  const manifold = (): Plan => ({
    ...emptyPlan(),
    supplies: Table.of([supply('V1', [0, 0], '1'), supply('V2', [0, 0], '2')]),
  });

  test('pieces begin at the valve of their zone and are not joined to those of another', () => {
    const plan = edits(
      manifold(),
      addLaterals(
        '',
        [
          [0, 0],
          [5, 0],
        ],
        { ...FIELDS, zone: '2' },
      ),
      addLaterals(
        '',
        [
          [0, 0],
          [5, 0],
        ],
        { ...FIELDS, zone: '1' },
      ),
      addLaterals(
        '',
        [
          [2, 0],
          [2, 2],
        ],
        { ...FIELDS, zone: '1' },
      ),
    );
    expect([...plan.laterals].map(({ zone, from, to }) => `${zone}: ${from}-${to}`)).toEqual([
      '2: V2-N1',
      '1: V1-N3',
      '1: N3-N2',
      '1: N3-N4',
    ]);
  });

  test('without a zone a chain takes that of the valve, or of the pipe, that it begins at', () => {
    const valve = { ...emptyPlan(), supplies: Table.of([supply('V2', [0, 0], '2')]) };
    const plan = edits(
      valve,
      addLaterals(
        '',
        [
          [0, 0],
          [5, 0],
        ],
        FIELDS,
      ),
      addLaterals(
        '',
        [
          [3, 0],
          [3, 3],
        ],
        FIELDS,
      ),
    );
    expect([...plan.laterals].map(({ zone }) => zone)).toEqual(['2', '2', '2']);
  });
});

describe('cutting', () => {
  const before = addLaterals(
    '',
    [
      [0, 0],
      [8, 0],
    ],
    KNOWN,
  ).apply(site());
  test('at a place beside the pipe, under its foot', () => {
    const plan = splitLateral('', 'L1', [5, 1]).apply(before);
    expect(pieces(plan)).toEqual(['V1 0,0 - N1 5,0', 'N1 5,0 - H3 8,0']);
    expect([...plan.laterals].every(({ depthM, size }) => depthM === 0.3 && size === '3/4')).toBe(true);
  });
  test('at a head, by its name', () => {
    expect(names(splitLateral('', 'L1', [4, 0]).apply(before))).toEqual(['V1-H1', 'H1-H3']);
  });
  test('close to an end the cut is a joint of its own', () => {
    expect(names(splitLateral('', 'L1', [7.9, 0]).apply(before))).toEqual(['V1-N1', 'N1-H3']);
  });
  test('an end and an unknown id change nothing', () => {
    expect(splitLateral('', 'L1', [9, 0]).apply(before)).toBe(before);
    expect(splitLateral('', 'L9', [4, 0]).apply(before)).toBe(before);
  });
});

describe('moving', () => {
  const comb = (): Plan =>
    edits(
      site(),
      addLaterals(
        '',
        [
          [0, 0],
          [4, 0],
          [8, 0],
        ],
        FIELDS,
      ),
      addLaterals(
        '',
        [
          [4, 0],
          [4, 3],
        ],
        FIELDS,
      ),
    );

  test('a head takes the pipe ends along, and they keep its name', () => {
    const plan = move('', [{ table: 'heads', id: 'H1' }], 0, -1).apply(comb());
    expect(pieces(plan)).toEqual(['V1 0,0 - H1 4,-1', 'H1 4,-1 - H3 8,0', 'H1 4,-1 - H2 4,3']);
  });
  test('a supply does too', () => {
    const plan = move('', [{ table: 'supplies', id: 'V1' }], -1, 1).apply(comb());
    expect(pieces(plan)[0]).toBe('V1 -1,1 - H1 4,0');
  });
  test('a pipe that leaves its head is no longer called after it', () => {
    const plan = move('', [{ table: 'laterals', id: 'L3' }], 1, 1).apply(comb());
    expect(pieces(plan)).toEqual(['V1 0,0 - N1 5,1', 'N1 5,1 - H3 8,0', 'N1 5,1 - N2 5,4']);
    expect(plan.heads.get('H1')!.at).toEqual([4, 0]);
  });
  test('everything together keeps every name', () => {
    const before = comb();
    const all = (['heads', 'supplies', 'laterals'] as const).flatMap((table) =>
      [...before[table]].map(({ id }) => ({ table, id })),
    );
    const plan = move('', all, 2, 2).apply(before);
    expect(names(plan)).toEqual(names(before));
    expect(plan.laterals.get('L1')).toMatchObject({ a: [2, 2], b: [6, 2] });
  });
  test('an end goes with all that is joined there', () => {
    const plan = moveVertex('', { table: 'laterals', id: 'L1', ring: 0, index: 1 }, [4, 1]).apply(comb());
    expect(pieces(plan)).toEqual(['V1 0,0 - N1 4,1', 'N1 4,1 - H3 8,0', 'N1 4,1 - H2 4,3']);
  });
  test('an end is joined to what it is brought to: a head, another end, the middle of a pipe', () => {
    const loose = addLaterals(
      '',
      [
        [0, 6],
        [3, 6],
      ],
      FIELDS,
    ).apply(comb());
    const to = (at: Point) => moveLateralEnd('', 'L4', 'b', at).apply(loose);
    expect(pieces(to([8.1, 0])).at(-1)).toBe('N1 0,6 - H3 8,0');
    const tee = to([6, 0.1]);
    expect(pieces(tee)).toContain('H1 4,0 - N3 6,0');
    expect(pieces(tee)).toContain('N3 6,0 - H3 8,0');
    expect(pieces(tee)).toContain('N1 0,6 - N3 6,0');
    expect(tee.laterals.size).toBe(5);
  });
  test('a piece is never pulled to nothing', () => {
    const before = comb();
    expect(moveLateralEnd('', 'L1', 'b', [0, 0]).apply(before)).toBe(before);
    expect(moveLateralEnd('', 'L1', 'b', [8, 0]).apply(before)).toBe(before);
  });
  test('a corner pulled out of a piece is a joint', () => {
    const plan = insertVertex('', { table: 'laterals', id: 'L2', ring: 0, index: 1 }, [6, 2]).apply(comb());
    expect(pieces(plan)).toEqual([
      'V1 0,0 - H1 4,0',
      'H1 4,0 - N1 6,2',
      'H1 4,0 - H2 4,3',
      'N1 6,2 - H3 8,0',
    ]);
  });
});

describe('removing and copying', () => {
  test('a head that is removed leaves the pipe, and a new head does not take its name', () => {
    const before = addLaterals(
      '',
      [
        [0, 0],
        [8, 0],
      ],
      FIELDS,
    ).apply(site());
    const plan = edits(
      before,
      remove('', [{ table: 'heads', id: 'H3' }]),
      add('', 'heads', head('', [1, 9])),
    );
    expect(names(plan)).toEqual(['V1-H3']);
    expect([...plan.heads].map(({ id }) => id)).toEqual(['H1', 'H2', 'H4']);
  });
  test('copied pipes are joined to each other and to copied heads, not to the first ones', () => {
    const before = addLaterals(
      '',
      [
        [0, 0],
        [2, 0],
        [4, 0],
      ],
      FIELDS,
    ).apply(site());
    const { plan } = duplicated(
      before,
      [
        { table: 'laterals', id: 'L1' },
        { table: 'laterals', id: 'L2' },
        { table: 'heads', id: 'H1' },
      ],
      0,
      -5,
    );
    expect(names(plan)).toEqual(['V1-N1', 'N1-H1', 'N2-N3', 'N3-H4']);
  });
});

/** What must hold after every edit: one joint, one name; no name of something that stands elsewhere. */
function faults(plan: Plan): string[] {
  const found: string[] = [];
  const ends = [...endsOf(plan.laterals)];
  for (const { pipe, end, at, name } of ends) {
    const what = `${pipe.id}.${end} "${name}"`;
    if (name === '') found.push(`${what} has no name`);
    if (!at.every(Number.isFinite)) found.push(`${what} has no place`);
    const station = plan.heads.get(name) ?? plan.supplies.get(name);
    if (station && distance(station.at, at) > STANDS_ON_M + 1e-9) found.push(`${what} is far from it`);
    for (const other of ends) {
      if (!zonesAgree(other.pipe.zone, pipe.zone)) continue;
      const far = distance(other.at, at);
      const label = `${what} and ${other.pipe.id}.${other.end} "${other.name}"`;
      if (other.name === name && far > ONE_JOINT_M + 1e-9) found.push(`${label} are apart`);
      if (other.name !== name && far < 1e-9) found.push(`${label} are one place`);
    }
  }
  return found;
}

describe('whatever is done', () => {
  // Half metres, so that things meet often.
  const place = fc
    .tuple(fc.integer({ min: 0, max: 10 }), fc.integer({ min: 0, max: 8 }))
    .map(([x, y]): Point => [x / 2, y / 2]);
  const pick = fc.nat(40);
  const step = fc.oneof(
    fc.record({ do: fc.constant('draw' as const), path: fc.array(place, { minLength: 2, maxLength: 4 }) }),
    fc.record({ do: fc.constant('head' as const), at: place }),
    fc.record({
      do: fc.constant('end' as const),
      pick,
      end: fc.constantFrom('a' as const, 'b' as const),
      at: place,
    }),
    fc.record({ do: fc.constant('bend' as const), pick, at: place }),
    fc.record({ do: fc.constant('split' as const), pick, at: place }),
    fc.record({
      do: fc.constant('move' as const),
      table: fc.constantFrom('heads' as const, 'supplies' as const, 'laterals' as const),
      pick,
      by: place,
    }),
    fc.record({
      do: fc.constant('remove' as const),
      table: fc.constantFrom('heads' as const, 'laterals' as const),
      pick,
    }),
    fc.record({ do: fc.constant('copy' as const), pick, by: place }),
  );
  const refOf = (plan: Plan, table: 'heads' | 'supplies' | 'laterals', n: number) => {
    const ids = [...plan[table]].map(({ id }) => id);
    return ids.length ? { table, id: ids[n % ids.length]! } : null;
  };
  const done = (plan: Plan, one: typeof step extends fc.Arbitrary<infer T> ? T : never): Plan => {
    if (one.do === 'draw') return addLaterals('', one.path, FIELDS).apply(plan);
    if (one.do === 'head') return add('', 'heads', head('', one.at)).apply(plan);
    const ref = refOf(plan, 'table' in one ? one.table : 'laterals', one.pick);
    if (!ref) return plan;
    if (one.do === 'end') return moveLateralEnd('', ref.id, one.end, one.at).apply(plan);
    if (one.do === 'bend') return bendLateral('', ref.id, one.at).apply(plan);
    if (one.do === 'split') return splitLateral('', ref.id, one.at).apply(plan);
    if (one.do === 'remove') return remove('', [ref]).apply(plan);
    if (one.do === 'copy') return duplicated(plan, [ref], one.by[0] + 0.25, one.by[1]).plan;
    return move('', [ref], one.by[0] - 2.5, one.by[1] - 2).apply(plan);
  };

  test('a joint has one name and a name one place', () => {
    fc.assert(
      fc.property(fc.array(step, { minLength: 1, maxLength: 12 }), (steps) => {
        let plan = site();
        for (const one of steps) {
          const next = done(plan, one);
          expect(faults(next), JSON.stringify({ one, before: pieces(plan), after: pieces(next) })).toEqual(
            [],
          );
          // Only a move may press a piece together, as it may a run; nothing is lost, undo brings it back.
          const flat = ({ a, b }: LateralPipe) => distance(a, b) < 1e-9;
          if (one.do !== 'move') {
            const fresh = [...next.laterals].filter(({ id }) => !plan.laterals.has(id));
            expect(fresh.filter((pipe) => flat(pipe) && one.do !== 'copy')).toEqual([]);
          }
          plan = next;
        }
      }),
      { seed: 20240611, numRuns: 1000 },
    );
  });
});
