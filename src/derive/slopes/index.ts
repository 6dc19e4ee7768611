/** What a slope asks for: bands, check valves, air reliefs, drains. */
export { BAND_RISE_M, bandCount, BANDS_SOURCE, ONE_BAND_RISE_M } from './band-count.ts';
export { advisedEdit, advisedOf, type Advised, type AdvisedPart } from './advised.ts';
export { checkPlaces, type CheckPlace, type CheckPlaces } from './check-places.ts';
