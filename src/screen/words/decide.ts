/** Words of the view Decide, in English. */
export const decide = {
  title: 'What is there today',
  text: 'Figures of the existing spray zone. The verdict whether to convert, and which head becomes the tie-in, is not built yet.',
  beds: 'Beds',
  heads: 'Spray heads',
  flow: 'Flow of all heads',
  rate: 'Precipitation rate',
  lateral: 'Buried lateral, in plan',
  volume: 'Water in the lateral',
  plants: 'Plants',
  nothing: 'Open a survey file to see the existing spray zone here.',
} as const;
