/** A photo taken at a slant, laid flat by four marks and the lengths between them. */
export {
  examineMarks,
  groundFigure,
  type Figure,
  type Four,
  type HeldLength,
  type Measured,
} from './figure.ts';
export { atSize, layFlat, type FlatPicture } from './flat-picture.ts';
export { flatteningOf, photoLaidFlat, photoTakenBack, pictureAsTaken, type Flattening } from './on-plan.ts';
export { levelsFor, warpRows, type PixelGrid } from './warp.ts';
