/** Point emitters at plants, and the blank tubing that leads to them. */
export {
  FEEDER_LEAST_M,
  MOST_EMITTERS,
  POINT_FLOWS_LPH,
  USUAL_POINTS,
  type PointChoices,
  type PointPlace,
  type PointStart,
} from './choices.ts';
export { plantNumbers, type PlantNumber } from './numbers.ts';
export { placeEmitters, UPHILL_PERCENT, type Placed, type Placement, type PointNote } from './place.ts';
export { routeTubing, type Route } from './route.ts';
export { layPoints, pointsEdit, type PointLayout } from './edit.ts';
