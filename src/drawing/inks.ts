import type { Color, Ink } from './marks.ts';

/** Pens of a drawing office, millimetres. Source of the series: ISO 128 line groups (0.13 to 0.7, ratio 1:sqrt 2). */
export const PEN = { hair: 0.13, thin: 0.18, fine: 0.25, medium: 0.35, bold: 0.5, heavy: 0.7 } as const;

/** What the inks look like: graphite on warm paper, one accent. */
const INKS: Readonly<Record<Ink, `#${string}`>> = {
  line: '#1f2326',
  soft: '#5c6367',
  faint: '#a6abad',
  accent: '#9c4a1a',
  warn: '#b00f2e',
  bed: '#e6d9bd',
  paving: '#d8d9d9',
  lawn: '#d5e3c3',
  plant: '#68776a',
  plantFill: '#c4d0c0',
  water: '#24537d',
  old: '#8a7a63',
  paper: '#fdfcf9',
};

/** The colour `#rrggbb` of an ink or of a colour given as such. On `paper` the ground is plain white. */
export function colorOf(color: Color, ground: 'screen' | 'paper' = 'screen'): `#${string}` {
  if (color.startsWith('#')) return color as `#${string}`;
  if (color === 'paper' && ground === 'paper') return '#ffffff';
  return INKS[color as Ink];
}
