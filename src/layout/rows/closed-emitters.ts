/**
 * Distance of the first emitter from the start of a closed run, so that the spacing over its seam comes nearest to all
 * others: it holds length / spacing emitters, rounded, and half of what is left lies on either side of the seam.
 * @param lengthM round the run on the ground, metres
 * @param count emitters that it is to hold; length / spacing rounded down or up
 */
export function firstOnClosed(
  lengthM: number,
  spacingM: number,
  count = Math.max(1, Math.round(lengthM / spacingM)),
): number {
  return (lengthM - (count - 1) * spacingM) / 2;
}

/**
 * Emitters on each of several closed runs of the same dripline: together the whole length over the spacing (trade rule:
 * emitters = length / spacing), those left over on the runs that lack least of one more.
 */
export function countsOnClosed(lengthsM: readonly number[], spacingM: number): number[] {
  const shares = lengthsM.map((lengthM) => lengthM / spacingM);
  const counts = shares.map((share) => Math.max(1, Math.floor(share + 1e-9)));
  const whole = Math.floor(shares.reduce((sum, share) => sum + share, 0) + 1e-9);
  let left = whole - counts.reduce((sum, count) => sum + count, 0);
  const byRest = shares
    .map((share, i) => ({ i, rest: share - counts[i]! }))
    .toSorted((a, b) => b.rest - a.rest || a.i - b.i);
  for (const { i } of byRest) if (left-- > 0) counts[i]! += 1;
  return counts;
}
