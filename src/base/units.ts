/**
 * Units that may be typed, by kind of quantity. Factors: NIST Special Publication 811 (2008), appendix B.8
 * (inch, pound-force per square inch, US gallon, acre, conventional metre of water).
 */

/** System in which values are shown and bare numbers are read. */
export type UnitSystem = 'us' | 'metric';

/**
 * What a number measures. Inside: metres for `length` and `spacing`, millimetres for `bore`, m2, kPa, L/h for
 * both flows, mm/h, litres, degrees, percent for `slope` and `percent`, m/s, degrees Celsius.
 */
export type QuantityKind =
  | 'length'
  | 'bore'
  | 'spacing'
  | 'area'
  | 'pressure'
  | 'outletFlow'
  | 'zoneFlow'
  | 'rate'
  | 'volume'
  | 'angle'
  | 'slope'
  | 'velocity'
  | 'temperature'
  | 'count'
  | 'factor'
  | 'percent';

export const INCH_MM = 25.4;
export const FOOT_M = 0.3048;
export const PSI_KPA = 6.894757293168361;
/** Litres in a US gallon; also L/h in a gallon per hour. */
export const GALLON_L = 3.785411784;
/** L/h in a US gallon per minute. */
export const GPM_LPH = 60 * GALLON_L;
/** Kilopascals in a conventional metre of water. */
export const METRE_WATER_KPA = 9.80665;

export interface Unit {
  /** As shown. */
  readonly label: string;
  /** Inside units in one of this unit; or the way there for a unit that is not in proportion. */
  readonly si: number | ((value: number) => number);
  /** Inside value at zero of this unit, where that is not zero. */
  readonly zeroAt?: number;
  /** Further ways to type it, in the spelling that `plainUnit` leaves. */
  readonly also: readonly string[];
}

function unit(label: string, si: Unit['si'], ...also: string[]): Unit {
  return { label, si, also };
}

const lengths = (metre: number): Record<string, Unit> => ({
  m: unit('m', metre, 'metre', 'metres', 'meter', 'meters', 'metro', 'metros'),
  cm: unit('cm', metre / 100, 'centimetre', 'centimetres', 'centimeter', 'centimeters'),
  mm: unit('mm', metre / 1000, 'millimetre', 'millimetres', 'millimeter', 'millimeters'),
  km: unit('km', metre * 1000),
  ft: unit('ft', metre * FOOT_M, "'", 'foot', 'feet', 'pie', 'pies'),
  in: unit('in', (metre * INCH_MM) / 1000, '"', 'inch', 'inches', 'pulg', 'pulgada', 'pulgadas'),
  yd: unit('yd', metre * 3 * FOOT_M, 'yard', 'yards'),
});

const flows: Record<string, Unit> = {
  gph: unit('gph', GALLON_L, 'gal/h', 'gallon/h', 'gallons/h'),
  gpm: unit('gpm', GPM_LPH, 'gal/min', 'gallon/min', 'gallons/min'),
  lh: unit('L/h', 1, 'lph', 'litre/h', 'litres/h', 'liter/h', 'liters/h', 'litros/h'),
  lmin: unit('L/min', 60, 'lpm', 'litre/min', 'litres/min', 'liter/min', 'liters/min', 'litros/min'),
  ls: unit('L/s', 3600, 'lps'),
  mlmin: unit('mL/min', 0.06),
  m3h: unit('m³/h', 1000, 'cmh'),
};

interface Kind {
  /** As said in a sentence. */
  readonly word: string;
  readonly units: Record<string, Unit>;
  readonly us: string;
  readonly metric: string;
  readonly signed?: boolean;
  readonly whole?: boolean;
  /** Digits after the mark when shown: fixed, or by the size of the shown value. */
  readonly digits: Record<UnitSystem, number | readonly [belowTen: number, fromTen: number]>;
  /** Whether zeros at the end of the decimals are left away. */
  readonly trim?: boolean;
  /** What a person may type, for messages. */
  readonly examples: Record<UnitSystem, string>;
}

const none: Record<string, Unit> = { none: unit('', 1) };

export const KINDS: Record<QuantityKind, Kind> = {
  length: {
    word: 'length',
    units: lengths(1),
    us: 'ft',
    metric: 'm',
    signed: true,
    digits: { us: 2, metric: 2 },
    examples: { us: `12' 6", 12.5 ft or 3.8 m`, metric: `3.8 m, 380 cm or 12' 6"` },
  },
  bore: {
    word: 'diameter',
    units: lengths(1000),
    us: 'in',
    metric: 'mm',
    digits: { us: 3, metric: 1 },
    examples: { us: '0.600 in, 3/4" or 16 mm', metric: '13.8 mm or 1/2"' },
  },
  spacing: {
    word: 'spacing',
    units: lengths(1),
    us: 'in',
    metric: 'cm',
    digits: { us: 1, metric: 1 },
    trim: true,
    examples: { us: '18, 1\' 6" or 45 cm', metric: '30, 0.3 m or 12"' },
  },
  area: {
    word: 'area',
    units: {
      m2: unit('m²', 1, 'm2', 'sq m', 'sqm'),
      ft2: unit('ft²', FOOT_M ** 2, 'ft2', 'sq ft', 'sqft'),
      yd2: unit('yd²', (3 * FOOT_M) ** 2, 'yd2', 'sq yd'),
      in2: unit('in²', (INCH_MM / 1000) ** 2, 'in2', 'sq in'),
      cm2: unit('cm²', 1e-4, 'cm2', 'sq cm'),
      acre: unit('acre', 43560 * FOOT_M ** 2, 'acres', 'ac'),
      ha: unit('ha', 10000),
    },
    us: 'ft2',
    metric: 'm2',
    digits: { us: [1, 0], metric: [2, 1] },
    examples: { us: '250 ft2 or 23 m2', metric: '23 m2 or 250 ft2' },
  },
  pressure: {
    word: 'pressure',
    units: {
      psi: unit('psi', PSI_KPA, 'lb/in2', 'lbf/in2'),
      bar: unit('bar', 100, 'bars'),
      kpa: unit('kPa', 1),
      mbar: unit('mbar', 0.1),
      mpa: unit('MPa', 1000),
      mh2o: unit('mH2O', METRE_WATER_KPA, 'm head', 'm h2o', 'mwc', 'mca'),
      fth2o: unit('ftH2O', METRE_WATER_KPA * FOOT_M, 'ft head', 'ft h2o'),
    },
    us: 'psi',
    metric: 'bar',
    digits: { us: 1, metric: 2 },
    examples: { us: '40 psi or 2.8 bar', metric: '2.8 bar, 280 kPa or 40 psi' },
  },
  outletFlow: {
    word: 'flow',
    units: flows,
    us: 'gph',
    metric: 'lh',
    digits: { us: 2, metric: 1 },
    examples: { us: '0.6 gph or 2.3 L/h', metric: '2.3 L/h or 0.6 gph' },
  },
  zoneFlow: {
    word: 'flow',
    units: flows,
    us: 'gpm',
    metric: 'lh',
    digits: { us: [2, 1], metric: [1, 0] },
    examples: { us: '8 gpm or 1800 L/h', metric: '1800 L/h, 30 L/min or 8 gpm' },
  },
  rate: {
    word: 'rate',
    units: {
      inh: unit('in/h', INCH_MM, 'inch/h', 'inches/h', 'iph', '"/h'),
      mmh: unit('mm/h', 1),
      cmh: unit('cm/h', 10),
    },
    us: 'inh',
    metric: 'mmh',
    digits: { us: 2, metric: 1 },
    examples: { us: '0.5 in/h or 13 mm/h', metric: '13 mm/h or 0.5 in/h' },
  },
  volume: {
    word: 'volume',
    units: {
      gal: unit('gal', GALLON_L, 'gallon', 'gallons', 'galones'),
      l: unit('L', 1, 'litre', 'litres', 'liter', 'liters', 'litros'),
      ml: unit('mL', 0.001),
      m3: unit('m³', 1000, 'm3'),
      ft3: unit('ft³', (FOOT_M * 10) ** 3, 'ft3', 'cu ft'),
    },
    us: 'gal',
    metric: 'l',
    digits: { us: [1, 0], metric: [1, 0] },
    examples: { us: '5 gal or 19 L', metric: '19 L or 5 gal' },
  },
  angle: {
    word: 'angle',
    units: {
      deg: unit('°', 1, 'deg', 'degree', 'degrees', 'grados'),
      rad: unit('rad', 180 / Math.PI),
    },
    us: 'deg',
    metric: 'deg',
    signed: true,
    digits: { us: 1, metric: 1 },
    trim: true,
    examples: { us: '90 or 90°', metric: '90 or 90°' },
  },
  slope: {
    word: 'slope',
    units: {
      percent: unit('%', 1, 'percent', 'pct'),
      deg: unit('°', (value) => 100 * Math.tan((value * Math.PI) / 180), 'deg', 'degrees'),
      inft: unit('in/ft', 100 / 12, '"/ft'),
      cmm: unit('cm/m', 1),
      mmm: unit('mm/m', 0.1),
    },
    us: 'percent',
    metric: 'percent',
    signed: true,
    digits: { us: 1, metric: 1 },
    examples: { us: '2 %, 1:50 or 1/4 in/ft', metric: '2 %, 1:50 or 2 cm/m' },
  },
  velocity: {
    word: 'velocity',
    units: { fts: unit('ft/s', FOOT_M, 'fps'), ms: unit('m/s', 1) },
    us: 'fts',
    metric: 'ms',
    digits: { us: 1, metric: 2 },
    examples: { us: '5 ft/s or 1.5 m/s', metric: '1.5 m/s or 5 ft/s' },
  },
  temperature: {
    word: 'temperature',
    units: {
      // Exact by definition: t/C = (t/F - 32) / 1.8 (NIST SP 811, appendix B.8).
      f: { ...unit('°F', 1 / 1.8, 'f', 'deg f', 'fahrenheit'), zeroAt: -32 / 1.8 },
      c: unit('°C', 1, 'c', 'deg c', 'celsius'),
    },
    us: 'f',
    metric: 'c',
    signed: true,
    digits: { us: 0, metric: 0 },
    examples: { us: '60 °F or 16 °C', metric: '16 °C or 60 °F' },
  },
  count: {
    word: 'count',
    units: none,
    us: 'none',
    metric: 'none',
    whole: true,
    digits: { us: 0, metric: 0 },
    examples: { us: '12', metric: '12' },
  },
  factor: {
    word: 'factor',
    units: none,
    us: 'none',
    metric: 'none',
    digits: { us: 2, metric: 2 },
    trim: true,
    examples: { us: '1.25', metric: '1.25' },
  },
  percent: {
    word: 'share',
    units: { percent: unit('%', 1, 'percent', 'pct') },
    us: 'percent',
    metric: 'percent',
    digits: { us: 0, metric: 0 },
    examples: { us: '75 or 75 %', metric: '75 or 75 %' },
  },
};

/** The unit in which values of a kind are shown and bare numbers read. */
export function shownUnit(kind: QuantityKind, units: UnitSystem): Unit {
  const { us, metric, units: all } = KINDS[kind];
  return all[units === 'us' ? us : metric]!;
}

/** Brings a typed unit to one spelling: small letters, no dots, `/h` for all hours, plain 2 and 3. */
export function plainUnit(text: string): string {
  return text
    .trim()
    .toLowerCase()
    .replaceAll('²', '2')
    .replaceAll('³', '3')
    .replaceAll('.', '')
    .replace(/\s*(?:\/|\bper\b|\bpor\b)\s*/g, '/')
    .replace(/\/(?:hr|hrs|hour|hours|hora)$/, '/h')
    .replace(/\/(?:minute|minuto)$/, '/min')
    .replace(/\/(?:sec|second|segundo)$/, '/s')
    .replace(/\s+/g, ' ');
}

function spellings(): Map<QuantityKind, Map<string, Unit>> {
  const all = new Map<QuantityKind, Map<string, Unit>>();
  for (const [kind, { units }] of Object.entries(KINDS) as [QuantityKind, Kind][]) {
    const names = new Map<string, Unit>();
    for (const one of Object.values(units)) {
      for (const name of [one.label, ...one.also]) if (name) names.set(plainUnit(name), one);
    }
    all.set(kind, names);
  }
  return all;
}
const SPELLINGS = spellings();

/** The unit of a kind that was typed as `text`, or undefined. */
export function unitTyped(kind: QuantityKind, text: string): Unit | undefined {
  return SPELLINGS.get(kind)?.get(plainUnit(text));
}

/** The word for another kind that has a unit typed as `text`, for messages. */
export function kindWordOfUnit(text: string): string | undefined {
  for (const [kind, names] of SPELLINGS) if (names.has(plainUnit(text))) return KINDS[kind].word;
  return undefined;
}
