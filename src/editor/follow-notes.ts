import type { FollowNote } from '../layout/live/index.ts';

/** What to tell of fills that no longer follow their bed or tree. */
export function toldOf(notes: readonly FollowNote[]): string {
  const failed = notes.find((note) => note.kind === 'failed');
  if (failed?.kind === 'failed') {
    const { what, todo } = failed.problem;
    return `${what}: the rows stay as they are and no longer follow. ${todo} Then choose the ${failed.fill.kind} and draw the rows anew.`;
  }
  const [first] = notes;
  const names = notes.map(({ name }) => name).join(', ');
  const place = first?.fill.kind === 'tree' ? 'tree' : 'bed';
  return `Rows of ${names} were changed by hand: they no longer follow. Choose the ${place} to draw them anew.`;
}
