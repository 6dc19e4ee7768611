/** Rings and spirals of dripline round a tree. */
export { RING_BOUNDS, type RingChoices } from './choices.ts';
export { ringDefaults, type RingDefaults } from './defaults.ts';
export { ringsRound } from './rings-round.ts';
