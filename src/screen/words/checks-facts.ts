/** Words of the facts that design checks ask for: night hours, watering, fittings, order of the control set. */
export const checksFacts = {
  night: {
    from: 'Watering allowed from',
    to: 'until',
    none: 'any hour',
    hint: 'Hours in which watering is allowed, such as 22:00 until 6:00; it may pass midnight. Clear one to allow any hour.',
    needBoth: 'Type both times: until then any hour is allowed.',
    source: 'As the water supplier or the city allows.',
  },
  clock: {
    what: (text: string) => `“${text}” is not a time of day`,
    todo: 'Type for example 22:00, 6:30 or 10 pm.',
  },
  watering: {
    title: 'Watering of the drip',
    minutes: 'Minutes a start',
    starts: 'Starts a day',
    interval: 'Every so many days',
    none: 'not set',
    hint: 'As it is set at the controller, or meant to be. Design checks hold it against the soil, the controller and the night. Cleared: not set.',
  },
  regulatorFirst: 'Regulator before filter',
  regulatorFirstHint:
    'The usual order is valve, filter, regulator, pipe (University of Arizona extension, Drip Irrigation 101).',
  practice: {
    title: 'Ways of building',
    fittings: 'Fittings of the tubing',
    usual: 'not chosen (barb)',
    families: {
      barb: 'barb, no clamp',
      'clamped barb': 'barb with clamp',
      'press-in': 'press-in',
      lock: 'lock (nut over barb)',
      compression: 'compression with nut',
    },
    hint: 'Barbs and lock fittings must match the bore, press-in ones the outside diameter. Barbs without a clamp hold least pressure. Common practice.',
  },
} as const;
