/** Words of laying a slanted photo flat, in English. */
export const rectify = {
  title: 'Flatten the photo',
  begin: 'Flatten…',
  isFlat: 'laid flat',
  takeBack: 'Back to the photo as taken',
  noPhoto: 'This tool needs a site photo. Open one, or drop it on the plan.',
  next: (mark: number) => `Press at mark ${mark} of 4 on the photo.`,
  how: 'Take four corners that lie flat on the ground, far apart, and go round them in order. Nothing that stands up is laid flat with them.',
  loupe: 'Photo under the pointer, enlarged',
  known: 'Known',
  kinds: { sides: 'Sides and a diagonal', rectangle: 'Rectangle' },
  side: (from: number, to: number) => `Side ${from}–${to}`,
  diagonal: (from: number, to: number) => `Diagonal ${from}–${to}`,
  line: (number: number) => `Measured line ${number}`,
  optional: 'to check',
  missing: 'Type the four sides and at least one diagonal. The second diagonal checks the rest.',
  missingRectangle: 'Type both sides. A measured diagonal besides shows whether the corners are square.',
  byOthers: (length: string) => `${length} by the others`,
  off: (percent: string, fittedLonger: boolean) =>
    `${percent} ${fittedLonger ? 'shorter than the others say' : 'longer than the others say'}`,
  worst: 'Largest residual',
  unchecked:
    'No length is left over, so that nothing shows a slip: measure the other diagonal too, or one more line.',
  uncheckedRectangle: 'Nothing shows yet whether the corners are square: measure a diagonal too.',
  tooFar:
    'The lengths disagree by more than 2 % (common practice): check the marks and measure again before you rely on the scale.',
  leftOut: (percent: string) =>
    `${percent} of the photo, towards the horizon, is left out: the ground is too coarse there.`,
  size: 'Flat picture',
  pixel: 'One pixel',
  preview: 'Preview of the flat picture',
  loading: 'The photo is loading.',
  apply: 'Flatten',
  cancel: 'Cancel',
  working: 'Laying the photo flat',
} as const;
