import { plainText } from '../../base/numeral.ts';
import { PIPE_BORES, type PipeBore } from '../../catalog/pipes.ts';

/** How materials are written on pipes and in surveys; the first that fits counts. */
const MATERIALS: readonly (readonly [RegExp, PipeBore['material']])[] = [
  [/\b(?:cl(?:ass)?\s*200|sdr[\s-]*21|200\s*psi)\b/i, 'PVC Class 200'],
  [/\bsch(?:ed(?:ule)?)?\s*40\b/i, 'PVC Schedule 40'],
  [/\bcopper\b|\btype\s*l\b/i, 'copper'],
  [/\bgalv/i, 'galvanised steel'],
  [/\bpoly(?:ethylene|pipe|thene)?\b|\bh?d?pe\b/i, 'polyethylene'],
];

/**
 * A nominal size as the catalog writes it: `1-1/2` for `1 1/2`, `1.5`, `1-1/2 in`, `1\u00bd"`. Sizes that are no
 * sixteenth of an inch, or carry another unit, come back as written.
 */
export function nominalSize(size: string): string {
  const text = plainText(size).replace(/ ?(?:"|in\.?|inch(?:es)?)$/i, '');
  const mixed = /^(?:(\d+)(?: ?- ?| ))?(\d+) ?\/ ?(\d+)$/.exec(text);
  const decimal = /^\d*[.,]?\d+$/.test(text) ? Number(text.replace(',', '.')) : NaN;
  const inches = mixed ? Number(mixed[1] ?? 0) + Number(mixed[2]) / Number(mixed[3]) : decimal;
  const sixteenths = Math.round(inches * 16);
  if (!(inches > 0 && inches < 100) || Math.abs(inches * 16 - sixteenths) > 1e-9) return text;
  const whole = Math.floor(sixteenths / 16);
  let [over, under] = [sixteenths % 16, 16];
  if (over === 0) return String(whole);
  while (over % 2 === 0) [over, under] = [over / 2, under / 2];
  return `${whole > 0 ? `${whole}-` : ''}${over}/${under}`;
}

/** The catalog's material that a written one means, or `null`: bare "PVC" may be either of two. */
export function pipeMaterial(material: string): PipeBore['material'] | null {
  return MATERIALS.find(([pattern]) => pattern.test(material))?.[1] ?? null;
}

/** The catalog's bore of a pipe by size and material as written; `null` when either is unknown. */
export function boreOf(size: string | null, material: string | null): PipeBore | null {
  if (size === null || material === null) return null;
  const [nominal, known] = [nominalSize(size), pipeMaterial(material)];
  return PIPE_BORES.find((bore) => bore.material === known && bore.size === nominal) ?? null;
}

/** Water in a full pipe, litres: area of the bore (mm2) times length (m) over a thousand. */
export function litresIn(innerDiameterMm: number, lengthM: number): number {
  return ((Math.PI / 4) * innerDiameterMm ** 2 * lengthM) / 1000;
}
