import { shownValue, type UnitSystem } from '../../base/quantity.ts';
import type { CrossSection } from '../../derive/index.ts';

/** Size of the chart and the room about its plot, in its own units (pixels at the usual width of the panel). */
export const CHART = { width: 288, left: 40, right: 12, top: 26, bottom: 30, mostHigh: 120 } as const;

/** Scales of heights that are easy to think in. */
const TIMES = [1, 2, 5, 10, 20, 50, 100];
const TICKS = 4;

export interface ChartTick {
  readonly px: number;
  readonly label: string;
}

/** Where things stand on the chart of a cross-section. */
export interface SectionChart {
  readonly height: number;
  /** How many times as high heights are drawn as distances. */
  readonly times: number;
  x(alongM: number): number;
  y(zM: number): number;
  readonly xTicks: readonly ChartTick[];
  readonly yTicks: readonly ChartTick[];
  /** The ground line in pieces, in order; dashed where it is carried on beyond the levels. */
  readonly pieces: readonly {
    readonly points: readonly (readonly [number, number])[];
    readonly outside: boolean;
  }[];
}

/** Lays out a cross-section: one scale across, heights up to 100 times as large, as much as there is room for. */
export function sectionChart(section: CrossSection, units: UnitSystem): SectionChart {
  const { width, left, right, top, bottom, mostHigh } = CHART;
  const marked = section.marks.map(({ zM }) => zM);
  const low = Math.min(section.lowestM, ...marked);
  const high = Math.max(section.highestM, ...marked);
  const rangeM = high - low;
  const plot = width - left - right;
  // A line that is steeper than the plot is high is drawn smaller, not flatter.
  const perM = Math.min(plot / section.lengthM, rangeM > 0 ? mostHigh / rangeM : Infinity);
  const times = TIMES.findLast((n) => n * rangeM * perM <= mostHigh + 1e-9) ?? 1;
  const perZ = rangeM > 0 ? perM * times : perM;
  const tall = Math.max(rangeM * perZ, 24);
  const x = (alongM: number) => left + alongM * perM;
  const y = (zM: number) => top + tall - (tall - rangeM * perZ) / 2 - (zM - low) * perZ;
  return {
    height: top + tall + bottom,
    times: rangeM > 0 ? times : 1,
    x,
    y,
    xTicks: ticks(0, section.lengthM, units).map(({ value, label }) => ({ px: x(value), label })),
    yTicks: ticks(low, high, units).map(({ value, label }) => ({ px: y(value), label })),
    pieces: piecesOf(section).map(({ places, outside }) => ({
      outside,
      points: places.map(({ alongM, zM }) => [x(alongM), y(zM)] as const),
    })),
  };
}

/** Round values of the shown unit between two lengths, metres inside; one value where there is no range. */
export function ticks(fromM: number, toM: number, units: UnitSystem): { value: number; label: string }[] {
  const unit = 1 / shownValue('length', 1, units);
  const from = shownValue('length', fromM, units);
  const to = shownValue('length', toM, units);
  if (!(to - from > 1e-9)) return [{ value: fromM, label: from.toFixed(1).replace(/^-/, '\u2212') }];
  const raw = (to - from) / TICKS;
  const power = 10 ** Math.floor(Math.log10(raw));
  const step = power * ([1, 2, 5].find((n) => n * power >= raw * 0.9) ?? 10);
  const digits = Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
  const found: { value: number; label: string }[] = [];
  for (let k = Math.ceil(from / step - 1e-9); k * step <= to + 1e-9 * step; k++) {
    const label = (k * step).toFixed(digits);
    found.push({
      value: k * step * unit,
      label: /^-0\.?0*$/.test(label) ? label.slice(1) : label.replace(/^-/, '\u2212'),
    });
  }
  return found;
}

type Place = CrossSection['places'][number];

/** The ground line cut where it enters or leaves the measured ground. */
function piecesOf({
  places,
  outside,
  lengthM,
  knows,
}: CrossSection): { places: Place[]; outside: boolean }[] {
  if (knows !== 'slope') return [{ places: [...places], outside: true }];
  const cuts = [0, ...outside.flatMap(({ fromM, toM }) => [fromM, toM]), lengthM].sort((a, b) => a - b);
  const pieces: { places: Place[]; outside: boolean }[] = [];
  for (let i = 1; i < cuts.length; i++) {
    const [from, to] = [cuts[i - 1]!, cuts[i]!];
    if (to - from <= 1e-9) continue;
    const middle = (from + to) / 2;
    pieces.push({
      places: [
        { alongM: from, zM: heightAt(places, from) },
        ...places.filter(({ alongM }) => alongM > from + 1e-9 && alongM < to - 1e-9),
        { alongM: to, zM: heightAt(places, to) },
      ],
      outside: outside.some(({ fromM, toM }) => middle > fromM && middle < toM),
    });
  }
  return pieces;
}

function heightAt(places: readonly Place[], alongM: number): number {
  const i = Math.max(
    1,
    places.findIndex((place) => place.alongM >= alongM),
  );
  const [a, b] = [places[i - 1]!, places[Math.min(i, places.length - 1)]!];
  const run = b.alongM - a.alongM;
  return run > 0 ? a.zM + ((b.zM - a.zM) * (alongM - a.alongM)) / run : b.zM;
}
