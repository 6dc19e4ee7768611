/** Keys that end typing in a field while the focus stays there: the value is taken, or the one before comes back. */
export const KEPT_BY: Readonly<Record<string, 'take' | 'restore'>> = { Enter: 'take', Escape: 'restore' };
