import { FEEDER } from '../../src/catalog/index.ts';
import { blank, control, emitter, planOf, supply } from '../../src/derive/plan-for-tests.ts';
import { readResults } from '../../src/derive/read-results.ts';
import { buildPlanNetwork } from '../../src/derive/network/index.ts';
import { solve } from '../../src/hydraulics/index.ts';
import type { PointEmitter } from '../../src/plan/records.ts';
import { SOURCE, table, type Case, type Table } from './cases.ts';

const FOOT_M = 0.3048;
const GALLON_L = 3.785411784;
const PSI_KPA = 6.894757;
/** Water of 20 degrees C, Pa s. */
const VISCOSITY = 1.002e-3;

/** The printed figures are for water of 70 degrees F. */
const WARM_C = 21.1;

/** Loss in a tube with a quiet flow, psi: 128 mu L Q / (pi d^4), Hagen and Poiseuille. */
const quietPsi = (gph: number, feet: number, boreMm: number): number =>
  (128 * VISCOSITY * feet * FOOT_M * ((gph * GALLON_L) / 3.6e6)) /
  (Math.PI * (boreMm / 1000) ** 4) /
  (1000 * PSI_KPA);

const GPH = GALLON_L;
const at = (id: string, feet: number, gph: number, more: Partial<PointEmitter> = {}): PointEmitter =>
  emitter(id, 'H', [1, feet * FOOT_M], { law: 'point-pc', ratedFlowLph: gph * GPH, ...more });

function pressureOf(id: string, emitters: readonly PointEmitter[], waterC: number): number {
  const plan = planOf({
    supplies: [supply('V', [0, 0])],
    controls: [control('C', [0, 0])],
    runs: [blank('H', [0, 0], [1, 0])],
    emitters,
  });
  const planNetwork = buildPlanNetwork({ ...plan, water: { ...plan.water, waterC } });
  const { outlets } = readResults(planNetwork, solve(planNetwork.network));
  return outlets.find(({ owner }) => owner.id === id)!.pressureKpa;
}

/** What is lost in feeders on level ground, psi: against the same emitters on the end of the tubing itself. */
function lostPsi(id: string, emitters: readonly PointEmitter[], waterC = 20): number {
  const onTubing = emitters.map((one): PointEmitter => ({ ...one, at: [1, 0], fromEmitterId: undefined }));
  return (pressureOf(id, onTubing, waterC) - pressureOf(id, emitters, waterC)) / PSI_KPA;
}

const cases: Case[] = [
  {
    name: '1/4 in tube of 10 ft, 2 gph',
    got: () => lostPsi('A', [at('A', 10, 2)]),
    expected: quietPsi(2, 10, FEEDER.innerDiameterMm),
    within: { share: 0.01 },
    source: SOURCE.exact,
  },
  {
    name: 'two of 1 gph on one tube, at 5 and 10 ft: the first piece carries both',
    got: () => lostPsi('B', [at('A', 5, 1), at('B', 10, 1, { fromEmitterId: 'A' })]),
    expected: quietPsi(2, 5, FEEDER.innerDiameterMm) + quietPsi(1, 5, FEEDER.innerDiameterMm),
    within: { share: 0.01 },
    source: SOURCE.exact,
  },
  {
    name: 'the first of these two',
    got: () => lostPsi('A', [at('A', 5, 1), at('B', 10, 1, { fromEmitterId: 'A' })]),
    expected: quietPsi(2, 5, FEEDER.innerDiameterMm),
    within: { share: 0.01 },
    source: SOURCE.exact,
  },
  // Printed for a bore of 0.155 in and rounded; a quiet flow loses as the fourth power of the bore.
  ...(
    [
      [2, 0.15],
      [4, 0.31],
    ] as const
  ).map(([gph, psi]): Case => ({
    name: `${gph} gph over 10 ft, printed for a bore of 0.155 in`,
    got: () => lostPsi('A', [at('A', 10, gph)], WARM_C) * (FEEDER.innerDiameterMm / (0.155 * 25.4)) ** 4,
    expected: psi,
    within: { share: 0.035 },
    source: 'field practice handbook of this project, section 2.3: micro-tube, psi per 10 ft, calculated',
  })),
];

export const feederTubes: Table[] = [table('emitters on feeder tubes', cases)];
