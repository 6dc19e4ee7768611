/** Words of the ground surface: levels, falls, contours, slope classes, cross-section, in English. */
export const ground = {
  title: 'Ground',
} as const;
