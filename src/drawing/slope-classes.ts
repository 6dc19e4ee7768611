import { labelPoint } from '../base/polygon.ts';
import { formatQuantity } from '../base/quantity.ts';
import { slopeClassOf, slopePieces, type SlopePiece } from '../derive/ground/slope-classes.ts';
import type { Plan } from '../plan/records.ts';
import type { Mark } from './marks.ts';

type Sloping = Pick<Plan, 'levels' | 'falls' | 'areas'>;

/** One hue from light to dark, so that the order can be seen without seeing colours. From flat to steep. */
export const SLOPE_COLOURS = [
  '#efe9f4',
  '#d9cbe6',
  '#c0a8d6',
  '#a483c4',
  '#865fae',
  '#663f92',
  '#452570',
] as const;
export const SLOPE_OPACITY = 0.75;

/** Beds tinted by how steep they are. */
export function slopeMarks(plan: Sloping): Mark[] {
  return slopePieces(plan).map(({ rings, percent }): Mark => ({
    kind: 'path',
    lines: rings,
    closed: true,
    fill: SLOPE_COLOURS[slopeClassOf(percent)]!,
    fillOpacity: SLOPE_OPACITY,
  }));
}

/** The slope in percent on the largest piece of each class in each bed. */
export function slopeLabels(plan: Sloping): Mark[] {
  const largest = new Map<string, SlopePiece>();
  for (const piece of slopePieces(plan)) {
    const key = `${piece.bedId}/${slopeClassOf(piece.percent)}`;
    if (piece.areaM2 > (largest.get(key)?.areaM2 ?? 0)) largest.set(key, piece);
  }
  return [...largest.values()].map(({ rings, percent, areaM2 }): Mark => ({
    kind: 'text',
    halo: 'paper',
    at: labelPoint(rings[0]!, rings.slice(1)),
    text: formatQuantity('slope', percent, 'metric', { digits: 1 }),
    sizeMm: 2.4,
    ink: 'line',
    anchor: 'middle',
    fitM: Math.sqrt(areaM2),
    mayDrop: true,
  }));
}
