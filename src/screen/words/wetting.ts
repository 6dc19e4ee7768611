/** Words of root zones and wet soil, in English. */
export const wetting = {
  title: 'Roots and wetted soil',
  noOutlets:
    'Nothing gets wet yet. Fill a bed with dripline or place emitters, then see here what they reach.',
  noPlants: 'There are no plants yet. Place them to see how much of their roots gets wet.',
  showWetted: 'Show wetted soil',
  showRoots: 'Root zones',
  roots: { off: 'not shown', now: 'now', mature: 'grown' },
  noneNow: (count: number, all: number) =>
    count === all
      ? 'No canopy is measured as it is now, so there is nothing to show: type it at the plants, or show root zones as grown.'
      : `${count} of ${all} plants are not shown: their canopy as it is now is not measured.`,
  legend: 'Shown on the plan',
  figures: {
    soil: 'Soil',
    until: 'Watered',
    width: (flow: string) => `Wet width at ${flow}`,
    now: 'Root zone wet now',
    mature: 'Root zone wet when grown',
    outlets: 'Outlets in the root zone',
    flow: 'Their flow',
  },
  taken: (texture: string) => `${texture} (taken)`,
  untilDepth: (depth: string, hours: number) => `until ${depth} deep, at most ${hours} h`,
  minutes: (minutes: string) => `${minutes} min a day`,
  notKnown: 'canopy now not measured',
  widths: 'What other sources say',
  widthsHint:
    'For about 1 gph (3.8 L/h). The sources disagree: dig after a watering to see how far the water went.',
  proposed: 'With what is only proposed on the plan.',
  choose: 'Choose a plant to see how much of its root zone gets wet.',
  several: (count: number) => `${count} plants are chosen. Choose one to see its figures.`,
  aim: 'Aim for half of the root zone or more, for trees three quarters.',
  list: 'Plants with the least wet roots',
  listHint: 'Share of the grown plant’s root zone. Press one to show it.',
  notes: 'An estimate for even soil: stones, compaction and cracks change it.',
} as const;
