/** Point emitters at plants, and the blank tubing that leads to them. */
export {
  FEEDER_LEAST_M,
  MOST_EMITTERS,
  POINT_FLOWS_LPH,
  USUAL_POINTS,
  type EmitterAt,
  type PointChoices,
  type PointPlace,
  type PointStart,
} from './choices.ts';
export { pointDefaults, type PointDefaults } from './defaults.ts';
export { plantNumbers, type PlantNumber } from './numbers.ts';
export type { PointNote } from './note.ts';
export { placeEmitters, type Placed, type Placement } from './place.ts';
export { UPHILL_PERCENT } from './placer.ts';
export { routeTubing, type Route } from './route.ts';
export { emittersOfPlants, layPoints, pointsEdit, type PointLayout } from './edit.ts';
export { movedOut, moveOutEdit, type MovedOut } from './move-out.ts';
export {
  hangApart,
  hangOnOneFeeder,
  MOST_ON_FEEDER,
  ON_FEEDER_SOURCE,
  seatEmitters,
  shareEmitter,
  unshareEmitter,
  USUAL_ON_FEEDER,
} from './feeder-edits.ts';
export { rehangEdit } from './rehang.ts';
