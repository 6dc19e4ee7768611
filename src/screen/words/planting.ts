/** Words of the plant list and its import, in English. */
export const planting = {
  title: 'Plant list',
} as const;
