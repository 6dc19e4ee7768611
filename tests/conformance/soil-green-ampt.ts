import { INCH_MM } from '../../src/base/units.ts';
import { GREEN_AMPT_SOILS, type Texture } from '../../src/catalog/index.ts';
import {
  frontDepthMm,
  frontOf,
  infiltrationRate,
  pondedInfiltrationMm,
  pondingOf,
  soakedAtPondingMm,
  soakIn,
  timeToPondingH,
  type WettingFront,
} from '../../src/derive/soil/index.ts';
import { emptyPlan } from '../../src/plan/empty.ts';
import { SOURCE, table, type Case, type Table } from './cases.ts';

const CM = 10;
const RAWLS = 'Rawls, Brakensiek and Miller 1983, J. Hydraul. Eng. 109:62-70';
const chow = (section: string) =>
  `Chow, Maidment and Mays 1988, Applied Hydrology, example ${section} (result from memory)`;

/** Centimetres and hours, as the textbooks have them. */
const frontCm = (conductivity: number, suction: number, moistureDeficit: number): WettingFront => ({
  conductivityMmPerH: conductivity * CM,
  suctionMm: suction * CM,
  moistureDeficit,
});

const siltLoam = frontCm(0.65, 16.7, 0.7 * 0.486);
const examples: Case[] = [
  {
    name: 'silt loam under water for an hour: depth, cm',
    got: () => pondedInfiltrationMm(siltLoam, 1) / CM,
    expected: 3.17,
    within: { absolute: 0.01 },
    source: chow('4.3.1'),
  },
  {
    name: 'silt loam under water for an hour: rate, cm/h',
    got: () => infiltrationRate(siltLoam, pondedInfiltrationMm(siltLoam, 1)) / CM,
    expected: 1.81,
    within: { absolute: 0.01 },
    source: chow('4.3.1'),
  },
  {
    name: 'silt loam at 1 cm/h ponds after, h',
    got: () => timeToPondingH(siltLoam, CM)!,
    expected: 10.5,
    within: { absolute: 0.1 },
    source: chow('4.4.1'),
  },
  {
    name: 'silt loam at 1 cm/h has soaked in, cm',
    got: () => soakedAtPondingMm(siltLoam, CM)! / CM,
    expected: 10.5,
    within: { absolute: 0.1 },
    source: chow('4.4.1'),
  },
  {
    name: 'silt loam at 5 cm/h ponds after, h',
    got: () => timeToPondingH(siltLoam, 5 * CM)!,
    expected: 0.17,
    within: { absolute: 0.005 },
    source: chow('4.4.1'),
  },
  {
    name: 'silt loam at 5 cm/h has soaked in, cm',
    got: () => soakedAtPondingMm(siltLoam, 5 * CM)! / CM,
    expected: 0.85,
    within: { absolute: 0.01 },
    source: chow('4.4.1'),
  },
];

const question = frontCm(0.65, 17, 0.34);
const slower = { ...question, conductivityMmPerH: question.conductivityMmPerH / 2 };
const exam = (name: string, got: () => number, expected: number, absolute: number): Case => ({
  name,
  got,
  expected,
  within: { absolute },
  source: SOURCE.trade,
});
const questionDepth = (front: WettingFront) => soakedAtPondingMm(front, 1.5 * CM)!;
const questions: Case[] = [
  exam('front at ponding, cm', () => frontDepthMm(question, questionDepth(question)) / CM, 13, 0.05),
  exam('depth at ponding, cm', () => questionDepth(question) / CM, 4.42, 0.005),
  exam('time to ponding, h', () => timeToPondingH(question, 1.5 * CM)!, 2.947, 0.0005),
  exam(
    'half the conductivity: front, cm',
    () => frontDepthMm(slower, questionDepth(slower)) / CM,
    4.7,
    0.005,
  ),
  exam('half the conductivity: depth, cm', () => questionDepth(slower) / CM, 1.599, 0.0005),
  exam('half the conductivity: time, h', () => timeToPondingH(slower, 1.5 * CM)!, 1.066, 0.0005),
];

/** The published means: porosity, effective porosity, suction cm, conductivity cm/h. */
const MEANS: readonly (readonly [Texture, number, number, number, number])[] = [
  ['sand', 0.437, 0.417, 4.95, 11.78],
  ['loamy sand', 0.437, 0.401, 6.13, 2.99],
  ['sandy loam', 0.453, 0.412, 11.01, 1.09],
  ['loam', 0.463, 0.434, 8.89, 0.34],
  ['silt loam', 0.501, 0.486, 16.68, 0.65],
  ['sandy clay loam', 0.398, 0.33, 21.85, 0.15],
  ['clay loam', 0.464, 0.309, 20.88, 0.1],
  ['silty clay loam', 0.471, 0.432, 27.3, 0.1],
  ['sandy clay', 0.43, 0.321, 23.9, 0.06],
  ['silty clay', 0.479, 0.423, 29.22, 0.05],
  ['clay', 0.475, 0.385, 31.63, 0.03],
];
const row = (texture: Texture) => GREEN_AMPT_SOILS.find((entry) => entry.texture === texture)!;
const means: Case[] = MEANS.flatMap(([texture, porosity, effective, suctionCm, conductivity]) =>
  (
    [
      ['porosity', () => row(texture).porosity, porosity],
      ['effective porosity', () => row(texture).effectivePorosity, effective],
      ['suction, cm', () => row(texture).suctionMm / CM, suctionCm],
      ['conductivity, cm/h', () => frontOf(texture).conductivityMmPerH / CM, conductivity],
    ] as const
  ).map(([name, got, expected]) => ({
    name: `${texture}: ${name}`,
    got,
    expected,
    within: { absolute: 1e-12 },
    source: RAWLS,
  })),
);

const MINUTES: readonly (readonly [Texture, number])[] = [
  ['loamy sand', 50.5],
  ['sandy loam', 12.3],
  ['loam', 2.6],
  ['silt loam', 11.4],
  ['sandy clay loam', 2],
  ['clay loam', 1.2],
  ['silty clay loam', 2.2],
  ['sandy clay', 0.8],
  ['silty clay', 1.1],
  ['clay', 0.7],
];
const minutes: Case[] = MINUTES.map(([texture, expected]) => ({
  name: `${texture}, half full, at 1.6 in/h: minutes until water stands`,
  got: () => pondingOf({ ...emptyPlan().soil, texture }, 1.6 * INCH_MM)!.minutes!,
  expected,
  within: { absolute: 0.05 },
  source: `${RAWLS}; minutes worked out by hand from the formula`,
}));

/** Rain of a storm in steps of ten minutes, cm/h. */
const STORM = [
  1.08, 1.26, 1.56, 1.92, 2.22, 2.58, 3.84, 6.84, 19.08, 9.9, 4.86, 3.12, 2.52, 2.16, 1.68, 1.44, 1.14, 1.02,
];
const storm = () =>
  soakIn(
    frontCm(1.09, 11.01, 0.247),
    STORM.map((rate) => ({ hours: 1 / 6, rateMmPerH: rate * CM })),
  );
const stormCase = (name: string, got: () => number, expected: number, absolute: number): Case => ({
  name,
  got,
  expected,
  within: { absolute },
  source:
    'Chow, Maidment and Mays 1988, Applied Hydrology, inputs of example 5.4.1; result worked out apart from the formula',
});
const storms: Case[] = [
  stormCase('rain, cm', () => storm().appliedMm / CM, 11.37, 0.005),
  stormCase('soaked in, cm', () => storm().soakedMm / CM, 5.4, 0.01),
  stormCase('excess, cm', () => storm().excessMm / CM, 5.97, 0.01),
  stormCase('water stands from, minutes', () => 60 * storm().pondsAtH!, 60, 0.5),
];

export const soilGreenAmpt: readonly Table[] = [
  table('Green and Ampt, textbook examples', examples),
  table('Green and Ampt, exam question', questions),
  table('Green and Ampt, means by texture', means),
  table('Green and Ampt, minutes to ponding', minutes),
  table('Green and Ampt, a storm', storms),
];
