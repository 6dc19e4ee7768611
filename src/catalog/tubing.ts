import type { Entry } from './source.ts';

/** A family of drip tubing. Makers differ by a few hundredths of an inch: measure before buying fittings. */
export interface Tubing extends Entry {
  readonly innerDiameterMm: number;
  readonly outerDiameterMm: number;
  /** What it is made for: dripline, blank tubing or feeder. */
  readonly use: 'inline' | 'blank' | 'feeder';
}

const generic = 'common practice: generic tubing family, inside and outside diameter as commonly sold';

// Walls of a fifteenth of the bore, from memory, to be checked.
const largePipe =
  'common practice, typical values: polyethylene pipe with the bore of steel pipe of its size, for insert fittings';

export const TUBING: readonly Tubing[] = [
  {
    id: 'inline-17',
    name: '17 mm dripline',
    innerDiameterMm: 14.2,
    outerDiameterMm: 17,
    use: 'inline',
    source: generic,
  },
  {
    id: 'inline-16',
    name: '16 mm dripline',
    innerDiameterMm: 13.8,
    outerDiameterMm: 16,
    use: 'inline',
    source: generic,
  },
  {
    id: 'inline-quarter',
    name: '1/4 in dripline',
    innerDiameterMm: 4.3,
    outerDiameterMm: 6.35,
    use: 'inline',
    source: generic,
  },
  {
    id: 'blank-half-600',
    name: '1/2 in tubing, 0.600 in bore',
    innerDiameterMm: 15.24,
    outerDiameterMm: 17.78,
    use: 'blank',
    source: generic,
  },
  {
    id: 'blank-half-520',
    name: '1/2 in tubing, 0.520 in bore',
    innerDiameterMm: 13.21,
    outerDiameterMm: 15.75,
    use: 'blank',
    source: generic,
  },
  // Two of one size with dripline: one kind of fitting holds both.
  {
    id: 'blank-17',
    name: '17 mm blank tubing',
    innerDiameterMm: 14.2,
    outerDiameterMm: 17,
    use: 'blank',
    source: generic,
  },
  {
    id: 'blank-16',
    name: '16 mm blank tubing',
    innerDiameterMm: 13.8,
    outerDiameterMm: 16,
    use: 'blank',
    source: generic,
  },
  {
    id: 'blank-three-quarter',
    name: '3/4 in tubing, 0.820 in bore',
    innerDiameterMm: 20.83,
    outerDiameterMm: 23.88,
    use: 'blank',
    source: generic,
  },
  {
    id: 'blank-one',
    name: '1 in tubing, 1.049 in bore',
    innerDiameterMm: 26.64,
    outerDiameterMm: 30.2,
    use: 'blank',
    source: largePipe,
  },
  {
    id: 'blank-one-quarter',
    name: '1-1/4 in tubing, 1.380 in bore',
    innerDiameterMm: 35.05,
    outerDiameterMm: 39.73,
    use: 'blank',
    source: largePipe,
  },
  {
    id: 'feeder-quarter',
    name: '1/4 in feeder tube, 0.170 in bore',
    innerDiameterMm: 4.32,
    outerDiameterMm: 6.35,
    use: 'feeder',
    source: generic,
  },
];

/** The feeder tube laid between a run and an outlet that sits off it. */
export const FEEDER = TUBING.find((tubing) => tubing.use === 'feeder')!;

export function tubingById(id: string): Tubing | undefined {
  return TUBING.find((tubing) => tubing.id === id);
}

/** Blank tubing with the bore and the outside diameter of a dripline, so that one kind of fitting holds both. */
export function blankLike(dripline: string): Tubing | undefined {
  const like = tubingById(dripline);
  return TUBING.find(
    ({ use, innerDiameterMm, outerDiameterMm }) =>
      use === 'blank' &&
      innerDiameterMm === like?.innerDiameterMm &&
      outerDiameterMm === like.outerDiameterMm,
  );
}

export function tubingFor(use: Tubing['use']): readonly Tubing[] {
  return TUBING.filter((tubing) => tubing.use === use);
}
