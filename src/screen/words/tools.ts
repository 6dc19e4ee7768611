/** Names, keys and hints of the tools, in English. */
export const tools = {
  select: {
    name: 'Select',
    key: 'S',
    hint: 'Choose, move and reshape. Drag a box round several things; hold Shift to add.',
  },
  pan: {
    name: 'Pan',
    key: 'H',
    hint: 'Drag the plan. Space bar or middle button does the same with any tool.',
  },
  measure: {
    name: 'Photo line',
    key: 'M',
    hint: 'Mark both ends of a measured line on the photo, then type its length.',
  },
  bed: {
    name: 'Bed',
    key: 'B',
    hint: 'Press at each corner. Type a length for the next side. Close on the first corner, with Enter or Finish.',
  },
  paving: {
    name: 'Paving',
    key: 'G',
    hint: 'Press at each corner. Close on the first corner, with Enter or Finish.',
  },
  lawn: {
    name: 'Lawn',
    key: 'U',
    hint: 'Press at each corner. Close on the first corner, with Enter or Finish.',
  },
  level: {
    name: 'Level',
    key: 'L',
    hint: 'Press where the height is known; its value is set in the panel.',
  },
  building: {
    name: 'Building',
    key: 'K',
    hint: 'Press at each corner of a building, wall or fence. Close on the first corner, with Enter or Finish.',
  },
  rectify: {
    name: 'Flatten photo',
    key: 'R',
    hint: 'Mark four corners on the photo in order round a figure that lies flat on the ground.',
  },
  fall: {
    name: 'Fall',
    key: 'A',
    hint: 'Press at the upper place, then at the lower one; then type the drop or the slope in percent.',
  },
  section: {
    name: 'Cross-section',
    key: 'X',
    hint: 'Press at two places to see the ground between them from the side.',
  },
  head: {
    name: 'Spray head',
    key: 'N',
    hint: 'Press where an old head stands; pull away before letting go to set direction and radius (a finger drags the handles afterwards). The rest is in the panel.',
  },
  lateral: {
    name: 'Old pipe',
    key: 'J',
    hint: 'Start at the valve and press at each head, tee and bend of the buried pipe. Enter or Finish ends the piece.',
  },
  plant: { name: 'Plant', key: 'P', hint: 'Press at each stem; class and canopy are set in the panel.' },
  supply: { name: 'Supply', key: 'W', hint: 'Press where the zone’s water starts: its valve.' },
  control: {
    name: 'Control set',
    key: 'F',
    hint: 'Filter and regulator. Press on the end of the old lateral, on tubing, or on the supply.',
  },
  inline: {
    name: 'Dripline',
    key: 'D',
    hint: 'Press at each bend; start on the control set or on other tubing to join it. Enter or Finish ends the run.',
  },
  blank: {
    name: 'Tubing',
    key: 'T',
    hint: 'Blank tubing for point emitters and headers. Press at each bend; Enter or Finish ends the run.',
  },
  emitter: {
    name: 'Emitter',
    key: 'E',
    hint: 'Press in a plant’s root zone (dashed circle); a feeder reaches it from the nearest tubing.',
  },
  check: {
    name: 'Check valve',
    key: 'C',
    hint: 'Press on a run. Water passes in the direction in which the run was drawn.',
  },
  flush: {
    name: 'Flush end',
    key: 'O',
    hint: 'Press on the end of a run to make it openable; press again to take that back.',
  },
  relief: {
    name: 'Air relief',
    key: '7',
    hint: 'Press on a run at its high place: it lets air in when the water is shut off.',
  },
  drain: {
    name: 'Drain',
    key: '8',
    hint: 'Press on a run at its low place: it lets the water out before frost.',
  },
  lasso: {
    name: 'Lasso',
    key: 'Q',
    hint: 'Draw round things to choose them; Shift adds, or gives up what is chosen already. Press on one thing for that one.',
  },
  row: {
    name: 'Row of plants',
    key: 'I',
    hint: 'Press at the start and the end of the row, and at bends between; Enter or Finish plants it. Spacing and rows are in the panel.',
  },
  grid: {
    name: 'Grid of plants',
    key: 'V',
    hint: 'Press in a bed to fill it, or drag a box. Spacing, direction and edge are in the panel.',
  },
  brush: {
    name: 'Brush',
    key: 'Y',
    hint: 'Drag to plant at a spacing, or to take plants away. Radius and spacing are in the panel.',
  },
  tape: {
    name: 'Tape',
    key: 'Z',
    hint: 'Press at two places or more to measure; end on the first one for an area. Esc clears.',
  },
} as const;
