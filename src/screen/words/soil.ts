/** Words of soil, its intake and what covers it, in English. */
export const soil = {
  title: 'Soil',
} as const;
