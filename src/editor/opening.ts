/** Name of the step of history that put another plan in the place of the one before. */
export const OPENING = 'Open another plan';
