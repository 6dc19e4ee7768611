import { INCH_MM } from '../base/units.ts';
import type { Sourced } from './source.ts';

/** Inside diameter of an existing pipe, by nominal size and material. */
export interface PipeBore extends Sourced {
  readonly material: 'PVC Class 200' | 'PVC Schedule 40' | 'polyethylene' | 'copper' | 'galvanised steel';
  readonly size: string;
  readonly innerDiameterMm: number;
}

// D2241, D2239 and B88 are from memory, to be checked.
const class200 = 'ASTM D2241, outside diameter less two walls';
const schedule40 = 'Hydraulic Institute Engineering Data Book, schedule 40 friction tables';
const sidr = 'ASTM D2239, inside-diameter-controlled polyethylene has schedule 40 bores';
const typeL = 'ASTM B88 type L copper tube';

function bores(material: PipeBore['material'], source: string, rows: Record<string, number>): PipeBore[] {
  return Object.entries(rows).map(([size, inches]) => ({
    material,
    size,
    innerDiameterMm: inches * INCH_MM,
    source,
  }));
}
const schedule40Inches = { '1/2': 0.622, '3/4': 0.824, '1': 1.049, '1-1/4': 1.38, '1-1/2': 1.61, '2': 2.067 };

/** Nominal sizes, smallest first. */
export const PIPE_SIZES: readonly string[] = ['1/2', '3/4', '1', '1-1/4', '1-1/2', '2', '2-1/2', '3'];

export const PIPE_BORES: readonly PipeBore[] = [
  ...bores('PVC Class 200', class200, {
    '1/2': 0.716,
    '3/4': 0.93,
    '1': 1.189,
    '1-1/4': 1.502,
    '1-1/2': 1.72,
    '2': 2.149,
    '2-1/2': 2.601,
    '3': 3.166,
  }),
  ...bores('PVC Schedule 40', schedule40, schedule40Inches),
  ...bores('polyethylene', sidr, schedule40Inches),
  ...bores('galvanised steel', schedule40, schedule40Inches),
  ...bores('copper', typeL, {
    '1/2': 0.545,
    '3/4': 0.785,
    '1': 1.025,
    '1-1/4': 1.265,
    '1-1/2': 1.505,
    '2': 1.985,
  }),
];
