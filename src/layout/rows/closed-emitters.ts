/**
 * Distance of the first emitter from the start of a closed run, so that the spacing over its seam comes nearest to all
 * others: it holds length / spacing emitters, rounded, and half of what is left lies on either side of the seam.
 * @param lengthM round the run on the ground, metres
 */
export function firstOnClosed(lengthM: number, spacingM: number): number {
  const count = Math.max(1, Math.round(lengthM / spacingM));
  return (lengthM - (count - 1) * spacingM) / 2;
}
