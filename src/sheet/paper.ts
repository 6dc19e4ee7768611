/** Sheet sizes. Source: ANSI/ASME Y14.1 (A, B; D in its architectural form 24 x 36 in), ISO 216 (A4, A3, A1). */
export interface Paper {
  readonly id: PaperId;
  readonly name: string;
  /** Portrait, millimetres. */
  readonly widthMm: number;
  readonly heightMm: number;
  /** How much larger than on the smallest sheets frames and lettering of the border are. */
  readonly lettering: number;
}

export const PAPER_IDS = ['letter', 'tabloid', '24x36', 'a4', 'a3', 'a1'] as const;
export type PaperId = (typeof PAPER_IDS)[number];
export type Orientation = 'portrait' | 'landscape';

const IN = 25.4;

export const PAPERS: readonly Paper[] = [
  { id: 'letter', name: 'letter, 8.5 x 11 in', widthMm: 8.5 * IN, heightMm: 11 * IN, lettering: 1 },
  { id: 'tabloid', name: 'tabloid, 11 x 17 in', widthMm: 11 * IN, heightMm: 17 * IN, lettering: 1.15 },
  { id: '24x36', name: '24 x 36 in', widthMm: 24 * IN, heightMm: 36 * IN, lettering: 1.5 },
  { id: 'a4', name: 'A4, 210 x 297 mm', widthMm: 210, heightMm: 297, lettering: 1 },
  { id: 'a3', name: 'A3, 297 x 420 mm', widthMm: 297, heightMm: 420, lettering: 1.15 },
  { id: 'a1', name: 'A1, 594 x 841 mm', widthMm: 594, heightMm: 841, lettering: 1.5 },
];

export function paperById(id: PaperId): Paper {
  return PAPERS.find((paper) => paper.id === id)!;
}

/** Width and height as the sheet lies, millimetres. */
export function paperSize(paper: Paper, orientation: Orientation): { widthMm: number; heightMm: number } {
  const { widthMm, heightMm } = paper;
  return orientation === 'portrait' ? { widthMm, heightMm } : { widthMm: heightMm, heightMm: widthMm };
}
