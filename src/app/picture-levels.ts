/** Longest side of the stored copy of a picture, pixels: as sharp as a plan needs, and every browser can draw it. */
export const LONGEST_SIDE_PX = 4096;

/** How many sizes of a picture are kept for drawing: whole, half, quarter, eighth. */
export const LEVELS = 4;

export interface SizePx {
  readonly widthPx: number;
  readonly heightPx: number;
}

/** Size of the stored copy: the picture's own, or smaller so that its long side fits `LONGEST_SIDE_PX`. */
export function storedSize(picture: SizePx): SizePx {
  const scale = Math.min(1, LONGEST_SIDE_PX / Math.max(picture.widthPx, picture.heightPx));
  return {
    widthPx: Math.max(1, Math.round(picture.widthPx * scale)),
    heightPx: Math.max(1, Math.round(picture.heightPx * scale)),
  };
}

/** Size of level 0 (whole), 1 (half), 2 (quarter), 3 (eighth). */
export function levelSize(stored: SizePx, level: number): SizePx {
  return {
    widthPx: Math.max(1, Math.round(stored.widthPx / 2 ** level)),
    heightPx: Math.max(1, Math.round(stored.heightPx / 2 ** level)),
  };
}

/**
 * The smallest level that is still at least as fine as the screen.
 * @param screenPixelsPerPicturePixel device pixels that one pixel of the whole picture covers; any positive number
 * @param levels number of levels there are, 1 or more
 */
export function levelFor(screenPixelsPerPicturePixel: number, levels: number = LEVELS): number {
  if (!(screenPixelsPerPicturePixel > 0)) return levels - 1;
  // A hair of tolerance: at exactly one half the half-size copy is right, whatever the rounding of the zoom.
  const level = Math.floor(-Math.log2(screenPixelsPerPicturePixel) + 1e-6);
  return Math.min(levels - 1, Math.max(0, level));
}
