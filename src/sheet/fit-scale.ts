import type { Box } from '../base/point.ts';
import type { UnitSystem } from '../base/quantity.ts';
import type { Layer } from '../drawing/marks.ts';
import { groundExtent } from './extent.ts';
import type { Orientation, PaperId } from './paper.ts';
import { regionsOf } from './regions.ts';
import { mmPerMetre, scalesFor, type Scale } from './scales.ts';
import { tilingOf } from './tiles.ts';

/** Paper allowed around a bare box for symbols and lettering at its edge, millimetres. */
const AROUND_BOX_MM = 6;

/**
 * The largest scale of a unit system at which a drawing (or a box of ground, metres) fits on one sheet; `null`
 * when it fits at none of them or when there is nothing to draw.
 */
export function fitScale(
  what: readonly Layer[] | Box,
  paper: PaperId,
  orientation: Orientation,
  units: UnitSystem,
): Scale | null {
  const { window } = regionsOf(paper, orientation);
  for (const scale of scalesFor(units)) {
    const perMetre = mmPerMetre(scale);
    const extent = isBox(what) ? widened(what, AROUND_BOX_MM / perMetre) : groundExtent(what, perMetre);
    if (!extent) return null;
    const { columns, rows } = tilingOf(extent, window, perMetre);
    if (columns * rows === 1) return scale;
  }
  return null;
}

function isBox(what: readonly Layer[] | Box): what is Box {
  return !Array.isArray(what);
}

function widened(box: Box, by: number): Box {
  return { minX: box.minX - by, minY: box.minY - by, maxX: box.maxX + by, maxY: box.maxY + by };
}
