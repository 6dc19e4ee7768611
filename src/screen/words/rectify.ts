/** Words of laying a slanted photo flat, in English. */
export const rectify = {
  title: 'Flatten the photo',
} as const;
