import { FOOT_M, INCH_MM, type UnitSystem } from '../base/units.ts';
import { boxed, lettered, ruled } from './brush.ts';
import { northArrow } from './key.ts';
import type { Frame, PaperPart } from './page.ts';
import type { Scale } from './scales.ts';
import { WORDS } from './words.ts';

/** Divisions of a scale bar. */
const DIVISIONS = 4;

/** Length of one division: the largest of 1, 2, 5, 10, ... units so that the bar is no longer than `mostMm`. */
export function divisionOf(units: UnitSystem, mmPerMetre: number, mostMm: number): number {
  const unitMm = mmPerMetre * (units === 'us' ? FOOT_M : 1);
  const most = mostMm / DIVISIONS / unitMm;
  const power = 10 ** Math.floor(Math.log10(most));
  const step = [5, 2, 1].find((digit) => digit * power <= most) ?? 1;
  return step * power;
}

/** A bar of four divisions in feet or metres, true to scale, its left end at (x, y). */
export function scaleBar(
  x: number,
  y: number,
  units: UnitSystem,
  mmPerMetre: number,
  mostMm: number,
  f: number,
): PaperPart[] {
  const division = divisionOf(units, mmPerMetre, mostMm);
  const step = division * mmPerMetre * (units === 'us' ? FOOT_M : 1);
  const height = 1.6 * f;
  const parts: PaperPart[] = [];
  for (let i = 0; i < DIVISIONS; i++) {
    parts.push(
      boxed(
        { x: x + i * step, y, w: step, h: height },
        { fill: i % 2 === 0 ? 'line' : 'paper', pen: { ink: 'line', widthMm: 0.18 } },
      ),
    );
  }
  for (let i = 0; i <= DIVISIONS; i++) {
    const figure = String(Number((i * division).toPrecision(12)));
    const text = i === DIVISIONS ? `${figure} ${units === 'us' ? 'ft' : 'm'}` : figure;
    parts.push(lettered([x + i * step, y - 1.2 * f], text, 2.4 * f, { anchor: 'middle' }));
  }
  return parts;
}

/** Length of the check bar, millimetres: a round figure on the reader's own rule. */
export function checkBarMm(units: UnitSystem): number {
  return units === 'us' ? 4 * INCH_MM : 100;
}

/** A bar of one known length on paper, to be measured after printing. */
export function checkBar(x: number, y: number, units: UnitSystem, f: number): PaperPart[] {
  const length = checkBarMm(units);
  const tick = 1.6 * f;
  return [
    ruled([x, y], [x + length, y], 'line', 0.25),
    ruled([x, y - tick], [x, y + tick], 'line', 0.25),
    ruled([x + length, y - tick], [x + length, y + tick], 'line', 0.25),
    lettered([x + length / 2, y - 1.1 * f], WORDS.checkBar[units], 2.2 * f, {
      anchor: 'middle',
      ink: 'soft',
    }),
  ];
}

export interface BandFigures {
  readonly scale: Scale;
  readonly mmPerMetre: number;
  /** Units of the check bar. */
  readonly units: UnitSystem;
  readonly northDeg: number;
}

/** Scale bar in the scale's own units, north arrow, and check bar in the band under the drawing. */
export function barsBand(band: Frame, figures: BandFigures, f: number): PaperPart[] {
  const { scale, mmPerMetre, units, northDeg } = figures;
  const pad = 6 * f;
  const check = checkBarMm(units);
  const checkX = band.x + band.w - pad - check;
  const arrowMm = 18 * f;
  const most = Math.min(60 * f, checkX - band.x - 2 * pad - arrowMm);
  const y = band.y + band.h * 0.5;
  return [
    ...scaleBar(band.x + pad, y - 0.8 * f, scale.units, mmPerMetre, most, f),
    lettered([band.x + pad, y + 4.6 * f], WORDS.scaleIs(scale.name), 2.2 * f, { ink: 'soft' }),
    ...northArrow([checkX - arrowMm / 2, y], 3.8 * f, northDeg, f),
    ...checkBar(checkX, y, units, f),
    lettered([checkX + check / 2, y + 4.6 * f], WORDS.checkBarWhy, 2 * f, {
      anchor: 'middle',
      ink: 'soft',
    }),
  ];
}
