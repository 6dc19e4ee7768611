/** Cuts the fonts down to the signs that plans use: TTF for PDF files, WOFF2 for the screen, with their licence. */
import { createHash } from 'node:crypto';
import { copyFileSync, existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { ROOT } from './run.mjs';

const FROM = path.join(ROOT, 'node_modules', '@expo-google-fonts', 'noto-sans');
const TO = path.join(ROOT, 'public', 'fonts');
const WEIGHTS = [
  { name: 'NotoSans-Regular', file: '400Regular/NotoSans_400Regular.ttf' },
  { name: 'NotoSans-Bold', file: '700Bold/NotoSans_700Bold.ttf' },
];

function range(first, last) {
  return String.fromCodePoint(...Array.from({ length: last - first + 1 }, (_, i) => first + i));
}

/** Latin, Latin-1 and Latin Extended-A; then dashes, quotes, primes, fractions, signs of measure. The
 * fonts have no signs for arrows, the diameter sign U+2300, less-or-equal, greater-or-equal, nearly equal. */
const SIGNS = [
  range(0x20, 0x7e),
  range(0xa0, 0x17f),
  range(0x2010, 0x2015),
  range(0x2018, 0x201f),
  '†‡•…‰′″‹›⁄€™Ω',
  '⅓⅔⅛⅜⅝⅞⁰⁴⁵⁶⁷⁸⁹₀₁₂₃₄₅₆₇₈₉',
  '−±×÷∞√∆Δπµμ',
  '\u2009\u202f\u00a0',
].join('');

/** Names the result by all that goes into it, so that an unchanged one is not made again. */
function stamp() {
  const hash = createHash('sha256')
    .update(SIGNS)
    .update(readFileSync(fileURLToPath(import.meta.url)));
  for (const { file } of WEIGHTS) hash.update(readFileSync(path.join(FROM, file)));
  return hash.digest('hex');
}

const stampFile = path.join(ROOT, '.cache', 'fonts.txt');
const outputs = WEIGHTS.flatMap(({ name }) => [`${name}.ttf`, `${name}.woff2`]).concat('OFL.txt');
const wanted = stamp();
const fresh =
  existsSync(stampFile) &&
  readFileSync(stampFile, 'utf8') === wanted &&
  outputs.every((name) => existsSync(path.join(TO, name)));

if (!fresh) {
  const { default: subsetFont } = await import('subset-font');
  mkdirSync(TO, { recursive: true });
  mkdirSync(path.dirname(stampFile), { recursive: true });
  for (const { name, file } of WEIGHTS) {
    const whole = readFileSync(path.join(FROM, file));
    for (const [ending, targetFormat] of [
      ['ttf', 'truetype'],
      ['woff2', 'woff2'],
    ]) {
      const part = await subsetFont(whole, SIGNS, { targetFormat });
      writeFileSync(path.join(TO, `${name}.${ending}`), part);
      console.log(
        `fonts/${name}.${ending}: ${Math.round(part.length / 1024)} kB of ${Math.round(whole.length / 1024)}`,
      );
    }
  }
  copyFileSync(path.join(FROM, 'LICENSE_FONT'), path.join(TO, 'OFL.txt'));
  writeFileSync(stampFile, wanted);
}
