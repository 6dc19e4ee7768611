import { describe, expect, test } from 'vitest';
import { LINK } from '../../hydraulics/index.ts';
import { blank, control, dripline, emitter, level, planOf, supply } from '../plan-for-tests.ts';
import { buildPlanNetwork } from './index.ts';

const atValve = { supplies: [supply('V', [0, 0])], controls: [control('C', [0, 0])] };

describe('outlets', () => {
  test('built-in emitters stand at the first distance and every spacing, up to the end', () => {
    const { outlets } = buildPlanNetwork(
      planOf({
        ...atValve,
        runs: [
          dripline(
            'R',
            [
              [0, 0],
              [3, 0],
            ],
            { spacingM: 0.5, firstM: 0.5 },
          ),
        ],
      }),
    );
    expect(outlets.map(({ at }) => at[0])).toEqual([0.5, 1, 1.5, 2, 2.5, 3].map((x) => expect.closeTo(x, 9)));
    expect(outlets.map(({ number }) => number)).toEqual([1, 2, 3, 4, 5, 6]);
  });
  test('on a slope their spacing is measured along the ground', () => {
    // A 3-4-5 slope: 5 m of tubing cover 4 m of plan.
    const { outlets, parts } = buildPlanNetwork(
      planOf({
        ...atValve,
        levels: [level('a', 0, 0, 0), level('b', 4, 0, 3)],
        runs: [
          dripline(
            'R',
            [
              [0, 0],
              [4, 0],
            ],
            { spacingM: 1, firstM: 1 },
          ),
        ],
      }),
    );
    expect(parts.runLengthM.get('R')).toBeCloseTo(5, 9);
    expect(outlets).toHaveLength(5);
    expect(outlets[0]!.at[0]).toBeCloseTo(0.8, 9);
    expect(outlets[4]!.zM).toBeCloseTo(3, 9);
  });
  test('a point emitter off its run hangs on a feeder as long as the ground between', () => {
    const plan = planOf({
      ...atValve,
      levels: [level('a', 0, 0, 0), level('b', 0, 4, 3)],
      runs: [blank('H', [0, 0], [10, 0])],
      emitters: [emitter('E', 'H', [5, 0.8]), emitter('F', 'H', [7, 0.04])],
    });
    const { outlets, network, pieces } = buildPlanNetwork(plan);
    expect(outlets[0]!.feederM).toBeCloseTo(1, 9);
    expect(outlets[0]!.tap).toEqual([5, 0]);
    expect(outlets[1]!.feederM).toBe(0);
    const feeder = pieces.findIndex(({ owner }) => owner.table === 'emitters');
    expect(network.links.lengthM[feeder]).toBeCloseTo(1, 9);
    expect(network.links.boreM[feeder]).toBeCloseTo(0.00432, 6);
  });
  test('emitter bodies add their length on both sides, all of it at an end', () => {
    const { network } = buildPlanNetwork(
      planOf({
        ...atValve,
        runs: [
          dripline(
            'R',
            [
              [0, 0],
              [1, 0],
            ],
            { spacingM: 0.5, firstM: 0.5 },
          ),
        ],
      }),
    );
    const pipes = [...network.links.kind.keys()].filter((i) => network.links.kind[i] === LINK.pipe);
    expect(pipes.map((i) => network.links.extraLengthM[i])).toEqual([
      expect.closeTo(0.05, 9),
      expect.closeTo(0.15, 9),
    ]);
  });
  test('no link is without length, no two nodes of a run nearer than 1 mm', () => {
    const { network } = buildPlanNetwork(
      planOf({
        ...atValve,
        runs: [
          dripline(
            'R',
            [
              [0, 0],
              [1, 0],
              [1.0004, 0],
              [2, 0],
            ],
            { spacingM: 0.5, firstM: 0.5 },
          ),
          blank('B', [1.0002, 0], [1.0002, 2]),
        ],
        emitters: [emitter('E', 'B', [1.0002, 0.0003])],
      }),
    );
    network.links.kind.forEach((kind, i) => {
      expect(network.links.from[i]).not.toBe(network.links.to[i]);
      if (kind === LINK.pipe) expect(network.links.lengthM[i]).toBeGreaterThanOrEqual(0.0009);
    });
  });
});
