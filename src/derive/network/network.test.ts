import { describe, expect, test } from 'vitest';
import type { Point } from '../../base/point.ts';
import type { Plan } from '../../plan/records.ts';
import { blank, control, dripline, emitter, lateral, planOf, supply } from '../plan-for-tests.ts';
import { studyOf } from '../study.ts';
import { buildPlanNetwork } from './index.ts';

const rules = (plan: Plan): string[] => buildPlanNetwork(plan).notices.map((notice) => notice.rule);
const states = (plan: Plan): string[] => [
  ...new Set(studyOf(plan).results.outlets.map((outlet) => outlet.state)),
];
const atValve = { supplies: [supply('V', [0, 0])], controls: [control('C', [0, 0])] };

describe('joining', () => {
  test('an end on the middle of another run is a tee', () => {
    const plan = planOf({
      ...atValve,
      runs: [
        blank('H', [0, 0], [0, 10]),
        dripline('R', [
          [0, 4],
          [5, 4],
        ]),
      ],
    });
    expect(states(plan)).toEqual(['good']);
    expect(rules(plan)).toEqual([]);
  });
  test('within 10 mm it joins, beyond it does not', () => {
    const tee = (gap: number): Plan =>
      planOf({
        ...atValve,
        runs: [
          blank('H', [0, 0], [0, 10]),
          dripline('R', [
            [gap, 4],
            [5, 4],
          ]),
        ],
      });
    expect(states(tee(0.009))).toEqual(['good']);
    expect(states(tee(0.011))).toEqual(['apart']);
    expect(rules(tee(0.011))).toEqual(['run-apart']);
    expect(buildPlanNetwork(tee(0.011)).notices[0]!.message).toContain('"R"');
  });
  test('many runs that hang together without a supply are told once, a run apart from them on its own', () => {
    const row = (id: string, y: number) =>
      dripline(id, [
        [0, y],
        [5, y],
      ]);
    const plan = planOf({
      ...atValve,
      runs: [
        blank('H', [0, 20], [0, 21], [0, 22], [0, 23]),
        ...[20, 21, 22, 23].map((y) => row(`R${y}`, y)),
        row('X', 40),
      ],
    });
    const notices = buildPlanNetwork(plan).notices.filter(({ rule }) => rule === 'run-apart');
    expect(notices.map(({ rule, refs }) => [rule, refs.length])).toEqual([
      ['run-apart', 5],
      ['run-apart', 1],
    ]);
    expect(notices[0]!.message).toMatch(/^5 runs with \d+ outlets, joined to each other, are not connected/);
    expect(notices[1]!.message).toContain('"X"');
  });
  test('runs that cross without a vertex do not join; with a vertex they do', () => {
    const crossing = (...path: Point[]): Plan =>
      planOf({ ...atValve, runs: [blank('H', [0, 0], [0, 10]), dripline('R', path)] });
    expect(states(crossing([-3, 4], [3, 4]))).toEqual(['apart']);
    expect(states(crossing([-3, 4], [0, 4], [3, 4]))).toEqual(['good']);
  });
  test('a ring closes on itself', () => {
    const square: Point[] = [
      [0, 0],
      [4, 0],
      [4, 4],
      [0, 4],
      [0, 0],
    ];
    const ring = studyOf(planOf({ ...atValve, runs: [dripline('R', square)] })).results;
    const open = studyOf(planOf({ ...atValve, runs: [dripline('R', [...square.slice(0, 4), [0, 0.05]])] }));
    // Fed from both ends the far side loses less.
    expect(ring.runs.get('R')!.worstKpa).toBeGreaterThan(open.results.runs.get('R')!.worstKpa);
    const flows = ring.outlets.map((outlet) => outlet.flowLph);
    expect(flows[0]).toBeCloseTo(flows.at(-1)!, 1);
  });
  test('an existing lateral feeds a run only through a control set', () => {
    const parts = {
      supplies: [supply('V', [0, 0])],
      laterals: [lateral('V', 'T', [0, 0], [6, 0])],
      runs: [
        dripline('R', [
          [6, 0],
          [6, 5],
        ]),
      ],
    };
    expect(states(planOf(parts))).toEqual(['apart']);
    expect(rules(planOf(parts))).toEqual(['run-on-lateral', 'run-apart']);
    expect(states(planOf({ ...parts, controls: [control('C', [6, 0])] }))).toEqual(['good']);
  });
  test('past a control set at the valve the lateral carries regulated water to a run', () => {
    const plan = planOf({
      ...atValve,
      laterals: [lateral('V', 'T', [0, 0], [6, 0])],
      runs: [
        dripline('R', [
          [6, 0],
          [6, 5],
        ]),
      ],
    });
    const { results } = studyOf(plan);
    expect(rules(plan)).toEqual([]);
    expect(results.outlets[0]!.state).toBe('good');
    expect(results.zones[0]!.flowLph).toBeCloseTo(results.totalFlowLph, 6);
  });
  test('lateral pipes join by place and by name', () => {
    const chain = (gap: number): Plan =>
      planOf({
        supplies: [supply('V', [0, 0])],
        laterals: [lateral('V', 'T1', [0, 0], [3, 0]), lateral('T1', 'T2', [3, gap], [6, 0])],
        controls: [control('C', [6, 0])],
        runs: [
          dripline('R', [
            [6, 0],
            [6, 3],
          ]),
        ],
      });
    expect(states(chain(0))).toEqual(['good']);
    expect(states(chain(0.2))).toEqual(['good']);
    const unnamed = chain(0.2)
      .laterals.toArray()
      .map((pipe) => ({ ...pipe, to: '' }));
    expect(states({ ...chain(0.2), laterals: planOf({ laterals: unnamed }).laterals })).toEqual(['apart']);
  });
  test('old pipe is surveyed by eye: an end that joins nothing belongs to the pipe within half a foot', () => {
    const tee = (gap: number): Plan => {
      const branch = lateral('', 'T2', [3, gap], [3, 4], { id: 'branch' });
      return planOf({
        supplies: [supply('V', [0, 0])],
        laterals: [lateral('V', 'T1', [0, 0], [6, 0]), branch],
        controls: [control('C', [3, 4])],
        runs: [
          dripline('R', [
            [3, 4],
            [6, 4],
          ]),
        ],
      });
    };
    expect(states(tee(0.15))).toEqual(['good']);
    expect(states(tee(-0.15))).toEqual(['good']);
    expect(states(tee(0.16))).toEqual(['apart']);
  });
  test('a lateral that is cut off carries nothing; a dead one stays joined', () => {
    const plan = (fate: 'dead' | 'cut off'): Plan =>
      planOf({
        supplies: [supply('V', [0, 0])],
        laterals: [
          lateral('V', 'T1', [0, 0], [3, 0], { fate: 'live' }),
          lateral('T1', 'T2', [3, 0], [6, 0], { fate }),
        ],
        controls: [control('C', [6, 0])],
        runs: [
          dripline('R', [
            [6, 0],
            [6, 3],
          ]),
        ],
      });
    expect(states(plan('dead'))).toEqual(['good']);
    expect(states(plan('cut off'))).toEqual(['apart']);
    expect(buildPlanNetwork(plan('cut off')).pieces.some(({ owner }) => owner.id === 'T1-T2')).toBe(false);
  });
  test('a control set in a run: what comes from the supply is its inlet', () => {
    const plan = planOf({
      supplies: [supply('V', [0, 0])],
      controls: [control('C', [5, 0])],
      runs: [
        blank('A', [0, 0], [5, 0]),
        dripline('B', [
          [5, 0],
          [9, 0],
        ]),
      ],
    });
    const { results } = studyOf(plan);
    expect(results.zones[0]!.owner).toEqual({ table: 'controls', id: 'C' });
    expect(results.zones[0]!.outletKpa).toBeCloseTo(control('C', [0, 0]).setKpa, 6);
    expect(results.outlets[0]!.pressureKpa).toBeLessThanOrEqual(control('C', [0, 0]).setKpa);
  });
  test('two control sets feed one header from both ends', () => {
    const plan = planOf({
      supplies: [supply('V', [0, 0])],
      laterals: [lateral('V', 'T', [0, 0], [10, 0])],
      controls: [control('C1', [2, 0]), control('C2', [8, 0])],
      runs: [
        dripline('R', [
          [2, 0],
          [2, 3],
          [8, 3],
          [8, 0],
        ]),
      ],
    });
    const { results } = studyOf(plan);
    expect(states(plan)).toEqual(['good']);
    const [one, two] = results.zones;
    expect(one!.flowLph + two!.flowLph).toBeCloseTo(results.totalFlowLph, 6);
    expect(one!.flowLph / two!.flowLph).toBeCloseTo(1, 2);
  });
  test('valves of several zones in one place keep apart', () => {
    const plan = planOf({
      supplies: [
        supply('V1', [0, 0], { zone: '1', pressureKpa: 300 }),
        supply('V4', [0, 0], { zone: '4', pressureKpa: 500 }),
      ],
      laterals: [
        lateral('V1', 'A', [0, 0], [0, 5], { zone: '1' }),
        lateral('V4', 'B', [0, 0], [0, 9], { zone: '4' }),
      ],
      controls: [control('C4', [0, 9])],
      runs: [
        dripline('R', [
          [0, 9],
          [3, 9],
        ]),
      ],
    });
    const { results } = studyOf(plan);
    expect(results.zones[0]!.inletKpa).toBeGreaterThan(450);
    const built = buildPlanNetwork(plan);
    const [v1, v4] = built.parts.supplies;
    expect(v1!.node).not.toBe(v4!.node);
    expect(results.notices).toEqual([]);
  });
});

describe('what cannot be used', () => {
  test('unknown catalog ids are named, a usual part is taken, the rest goes on', () => {
    const plan = planOf({
      supplies: [supply('V', [0, 0])],
      controls: [control('C', [0, 0], { filter: 'none such', regulator: 'nor this', setKpa: 0 })],
      runs: [
        {
          ...dripline(
            'R',
            [
              [0, 0],
              [3, 0],
            ],
            { law: 'odd' },
          ),
          tubing: 'unheard',
        },
      ],
    });
    expect(rules(plan).toSorted()).toEqual([
      'control-setting',
      'unknown-control-part',
      'unknown-control-part',
      'unknown-outlet-law',
      'unknown-tubing',
    ]);
    expect(studyOf(plan).results.totalFlowLph).toBeGreaterThan(0);
  });
  test('a control set that no supply reaches', () => {
    const plan = planOf({
      controls: [control('C', [1, 1])],
      runs: [
        dripline('R', [
          [1, 1],
          [4, 1],
        ]),
      ],
    });
    expect(rules(plan)).toEqual(['control-not-fed', 'run-apart']);
    expect(states(plan)).toEqual(['apart']);
  });
  test('a run without length, a spacing of zero, an emitter without its run', () => {
    const plan = planOf({
      ...atValve,
      runs: [
        blank('short', [1, 1], [1, 1]),
        dripline(
          'bad',
          [
            [0, 0],
            [2, 0],
          ],
          { spacingM: 0 },
        ),
        dripline('nan', [
          [0, 0],
          [Number.NaN, 0],
        ]),
        dripline('fine', [
          [0, 0],
          [0, 2],
        ]),
      ],
      emitters: [emitter('E', 'gone', [3, 3])],
    });
    expect(rules(plan).toSorted()).toEqual([
      'emitter-spacing',
      'emitter-without-run',
      'run-without-length',
      'run-without-length',
    ]);
    const { results } = studyOf(plan);
    expect(results.runs.get('fine')!.flowLph).toBeGreaterThan(0);
    expect(results.outlets.find(({ owner }) => owner.id === 'E')!.state).toBe('apart');
  });
  test('a spacing typed far too small stops at the most that is placed', () => {
    const plan = planOf({
      ...atValve,
      runs: [
        dripline(
          'R',
          [
            [0, 0],
            [300, 0],
          ],
          { spacingM: 0.001 },
        ),
      ],
    });
    const built = buildPlanNetwork(plan);
    expect(built.outlets.length).toBe(200_000);
    expect(built.notices.map(({ rule }) => rule)).toEqual(['too-many-emitters']);
  });
  test('blank tubing that touches nothing is named once for all', () => {
    const plan = planOf({
      ...atValve,
      runs: [blank('H', [0, 0], [3, 0]), blank('X', [9, 9], [9, 12]), blank('Y', [20, 9], [20, 12])],
    });
    const [loose, ...others] = buildPlanNetwork(plan).notices;
    expect(others).toEqual([]);
    expect(loose).toMatchObject({ rule: 'run-loose', severity: 'warning' });
    expect(loose!.refs.map(({ id }) => id)).toEqual(['X', 'Y']);
    expect(loose!.message).toContain('Runs "X", "Y" are not joined');
  });
});

describe('remembering', () => {
  test('an edit of another table gives the same network, an edit of a run a new one', () => {
    const plan = planOf({
      ...atValve,
      runs: [
        dripline('R', [
          [0, 0],
          [3, 0],
        ]),
      ],
    });
    const before = buildPlanNetwork(plan);
    expect(buildPlanNetwork({ ...plan, site: { ...plan.site, name: 'other' } })).toBe(before);
    expect(buildPlanNetwork({ ...plan, runs: plan.runs.with(blank('N', [0, 0], [0, 1])) })).not.toBe(before);
  });
});
