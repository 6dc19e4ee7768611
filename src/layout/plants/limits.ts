/** More plants than this in one go are a slip of the spacing rather than a wish. */
export const MOST_PLANTS = 20_000;
/** Plants closer than this cannot be told apart, metres. */
export const LEAST_SPACING_M = 0.05;
/** Rows of a triangular grid lie this share of the spacing apart: the height of a triangle of equal sides. */
export const TRIANGLE = Math.sqrt(3) / 2;

/** Stems of an array, or why there are none. */
export type Stems =
  | { readonly ok: true; readonly points: readonly (readonly [x: number, y: number])[] }
  | { readonly ok: false; readonly why: string };

export const isSpacing = (metres: number): boolean => Number.isFinite(metres) && metres >= LEAST_SPACING_M;
export const NO_SPACING = 'The spacing must be at least 0.05 m (2 in).';
export const tooMany = (about: number): string =>
  `That would be about ${Math.round(about).toLocaleString('en')} plants, more than ${MOST_PLANTS.toLocaleString('en')} in one go. Set a wider spacing.`;
