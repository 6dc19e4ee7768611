/** Words of the water service, in English. */
export const service = {
  title: 'Water service',
  static: 'Static pressure',
  lowStatic: 'Lowest static reading',
  lowAbove: 'Above the static pressure: one of the two is mistyped.',
  measuredAt: 'Measured at',
  places: { valve: 'the zone’s valve', meter: 'the meter' },
  placeHint:
    'Where the static pressures and working points were read. At the valve they hold the losses of meter, service and backflow preventer; at the meter these are added.',
  placeUnknown: 'not noted (as at the valve)',
  temperature: 'Water temperature',
  temperatureHint: 'Empty: 20 °C (68 °F). Cold water is thicker and loses more pressure.',
  working: 'Working points',
  workingHint:
    'Pressure read while water flows, and the flow at that moment. Three or four, from a throttled tap up to the whole zone, give the best curve.',
  how: 'Measured',
  notNoted: 'not noted',
  noWorking: 'None. Without one the supply is taken to hold its static pressure at any flow.',
  pressure: 'Pressure',
  flow: 'Flow',
  addPoint: 'Add working point',
  deletePoint: 'Delete working point',
  needBoth: 'A working point needs both: a pressure and the flow at it.',
  notBelow: 'A working pressure lies below the static pressure.',
  meter: 'Meter',
  backflow: 'Backflow preventer',
  backflowSize: 'Its size',
  backflowCaution:
    'Type and height are set by the water purveyor and the local code; have the device tested where they ask for it.',
  serviceSize: 'Service pipe',
  material: 'Its material',
  length: 'Its length',
  backflowHeight: 'Its height',
  backflowHeightHint:
    'Above the plan’s datum, as the levels are. Empty: not measured. Without levels the upper end of the first fall is 0. A vacuum breaker must stand above the highest outlet after it: 6 in atmospheric, 12 in pressure type.',
  meterSafe: 'Meter, safe flow',
  meterShareSource: 'common practice',
  meterDesign: 'Three quarters of it, for design',
  running: 'Flow of the zone as it sprays',
  runningHint: 'Measured with all its heads running. Empty: not measured.',
  measuredFlow: 'Measured',
  headsFlow: 'Sum of its heads',
  difference: 'Difference',
  calculator: {
    title: 'Work out a flow from readings',
    method: 'By',
    methods: {
      bucket: 'bucket and watch',
      meter: 'water meter and watch',
      gauge: 'pressure gauge',
    },
    short: { bucket: 'by bucket', meter: 'by meter', gauge: 'by gauge' },
    hints: {
      bucket:
        'gpm = 60 × gallons / seconds (NCAT/ATTRA, Measuring and Conserving Irrigation Water, 2006). Catch all of the water.',
      meter: 'Run it for 2 to 5 minutes with nothing else drawing water, and read the dial before and after.',
      throttled:
        'Throttle a tap behind the gauge, read the gauge while the bucket fills: pressure and flow of one moment.',
      curve:
        'The pressure at the gauge while the zone runs, read off the curve through the working points; losses grow with flow to the power 1.85.',
    },
    dial: 'The dial counts',
    units: { gal: 'gal', ft3: 'ft³', m3: 'm³', L: 'L' },
    readings: {
      pressure: 'Gauge shows',
      volume: 'Water caught',
      seconds: 'Time',
      before: 'Reading before',
      after: 'Reading after',
      minutes: 'Time between',
    },
    needsPoint: 'This needs a static pressure and at least one working point under Water service.',
    none: {
      bucket: 'Volume and time must be above zero.',
      meter: 'The second reading must be above the first, and the time above zero.',
      throttled: 'Volume and time must be above zero.',
      curve: 'The gauge must show less than the static pressure, and a working point must be usable.',
    },
    use: 'Use',
  },
  controller: {
    title: 'Controller',
    longestRunMin: 'Longest run, minutes',
    startsPerDay: 'Starts a day',
    longestIntervalDays: 'Longest interval, days',
    freeStations: 'Free stations',
    unknown: 'not known',
    shortRun:
      'Drip in dry climates wants runs of two hours or more (National Gardening Association, Southwestern Deserts report, 2009): more starts a day make up for short runs.',
    fewStarts:
      'Some codes want three starts a programme (San Marcos TX), a trade magazine four on slopes (Lawn and Landscape).',
    shortInterval:
      'Deep, rare watering wants intervals of up to 14 days (National Gardening Association, Southwestern Deserts report, 2009).',
    noStation: 'No station is free: drip and sprays cannot be parted by a further valve here.',
    caution:
      'The zone wires carry 24 V, but the controller itself is fed with mains voltage: leave work on it to an electrician.',
  },
  unmeasured: 'not measured',
  inch: 'in',
} as const;
