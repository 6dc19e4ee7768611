import { fitPhoto } from '../photo-fit.ts';
import type { Check } from './check.ts';

/** Whatever the photo's measured lines say against its scale. */
export const photoResidual: Check = ({ plan }) => (plan.photo ? [...fitPhoto(plan.photo).warnings] : []);
