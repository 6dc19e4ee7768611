/** Slopes: a bed split into bands along contour lines. */
export {
  bandsOf,
  LEAST_RISE_M,
  MOST_BANDS,
  type Band,
  type BandPart,
  type Bands,
  type BandsAsk,
  type Spot,
} from './bands-of.ts';
export { splitEdit } from './split.ts';
export { advisedIn, hasTubing, runsOfBed } from './advised-in.ts';
