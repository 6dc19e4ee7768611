/** Words of what is shown before it is drawn. */
export const offer = {
  title: 'Only proposed, not drawn yet',
  drop: 'Drop',
  dropHint: 'Takes the proposal off the plan; nothing is drawn.',
  counted: 'Figures and checks count what is only proposed, too.',
  first: 'Draw or drop the proposal first.',
} as const;
