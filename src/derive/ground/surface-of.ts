import { lineSurface } from './line-surface.ts';
import { meshSurface } from './mesh-surface.ts';
import { lineThrough, type Spot } from './spots.ts';
import { levelSurface, type Surface } from './surface.ts';

/** The surface through places of known height: flat, sloping along one line, or triangulated. */
export function surfaceOf(spots: readonly Spot[]): Surface {
  if (spots.length === 0) return levelSurface(0, 'none');
  if (spots.length === 1) return levelSurface(spots[0]!.zM, 'outside');
  const line = lineThrough(spots);
  return line ? lineSurface(spots, line) : meshSurface(spots);
}
