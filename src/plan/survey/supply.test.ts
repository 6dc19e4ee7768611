import { describe, expect, test } from 'vitest';
import { readSurvey, type SurveyFile } from '../file.ts';

const GPM = 227.12470704;

function read(parts: Record<string, unknown>): SurveyFile {
  const units = { length: 'ft', flow: 'gpm', pressure: 'psi' };
  const result = readSurvey(JSON.stringify({ format: 'survey', version: 1, units, ...parts }));
  if (!result.ok) throw new Error(`${result.problem.where}: ${result.problem.what}`);
  return result.value;
}
const places = ({ notices }: SurveyFile): string[] => notices.map((notice) => notice.where);

describe('how flows were measured', () => {
  test('at working points and for the running zone, as words', () => {
    const survey = read({
      supply: {
        measuredAt: 'at the valve',
        workingPoints: [
          { psi: 57, gpm: 3.2, how: 'bucket test' },
          { psi: 55, gpm: 4, method: 'meter dial' },
          { psi: 50, gpm: 6 },
        ],
        valves: [{ id: 'V', x: 0, y: 0, runningGpm: 3.3, runningHow: 'pressure gauge' }],
      },
    });
    expect(places(survey)).toEqual([]);
    expect(survey.plan.water.workingPoints.map(({ how }) => how)).toEqual(['bucket', 'meter', undefined]);
    expect(survey.plan.water.measuredAt).toBe('valve');
    const valve = survey.plan.supplies.get('V')!;
    expect(valve.runningFlowLph! / GPM).toBeCloseTo(3.3, 9);
    expect(valve.runningFlowHow).toBe('gauge');
  });

  test('an unknown word is told with its place and the figures stay', () => {
    const survey = read({
      supply: {
        measuredAt: 'roof',
        workingPoints: [{ psi: 57, gpm: 3.2, how: 'by eye' }],
        valves: [{ id: 'V', x: 0, y: 0, runningGpm: 'unknown', runningHow: null }],
      },
    });
    expect(places(survey).sort()).toEqual(['supply.measuredAt', 'supply.workingPoints[0].how']);
    expect(survey.plan.water.workingPoints).toHaveLength(1);
    expect(survey.plan.supplies.get('V')!.runningFlowLph).toBeNull();
  });
});

test('height of the backflow preventer', () => {
  const { plan } = read({ supply: { backflow: { type: 'PVB', z: 2 } } });
  expect(plan.water.backflowZM).toBeCloseTo(0.6096, 9);
});

describe('controller', () => {
  test('its four figures', () => {
    const { plan } = read({
      controller: { longestRunMin: 99, startsPerDay: 3, longestIntervalDays: 14, freeStations: '2' },
    });
    expect(plan.controller).toEqual({
      longestRunMin: 99,
      startsPerDay: 3,
      longestIntervalDays: 14,
      freeStations: 2,
      nightWindow: null,
    });
    expect(read({ controller: { longestRunHours: 4 } }).plan.controller.longestRunMin).toBe(240);
  });
  test('what cannot be is told and not taken', () => {
    const survey = read({
      controller: { longestRunMin: -1, startsPerDay: 2.5, freeStations: 'many', colour: 'grey' },
    });
    expect(Object.values(survey.plan.controller)).toEqual([null, null, null, null, null]);
    expect(places(survey).sort()).toEqual([
      'controller.colour',
      'controller.freeStations',
      'controller.longestRunMin',
      'controller.startsPerDay',
    ]);
    expect(places(read({ controller: 7 }))).toEqual(['controller']);
    expect(places(read({}))).toEqual([]);
  });
});
