/** Words of spray heads and old lateral pipes, in English. */
export const heads = {
  title: 'Spray heads',
} as const;
