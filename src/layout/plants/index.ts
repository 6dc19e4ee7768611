/** Many plants at once: along a line, in a grid, with a brush. */
export { plantsAlong, type RowChoices } from './row.ts';
export { longestEdgeDeg, plantGrid, type GridChoices, type GridGround } from './grid.ts';
export { NO_STROKE, standingPlants, stroked, underBrush, type BrushChoices, type Stroke } from './brush.ts';
export { mayStand, NearPlaces } from './standing.ts';
export { addPlants } from './edit.ts';
export { LEAST_SPACING_M, MOST_PLANTS, TRIANGLE, type Stems } from './limits.ts';
