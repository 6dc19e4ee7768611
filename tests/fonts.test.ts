import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, test } from 'vitest';

const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '..');

/**
 * Code points that a TrueType font has signs for, read from its `cmap` table, format 4 (OpenType specification
 * 1.9, "cmap - character to glyph index mapping table").
 */
function signsOf(font: Buffer): Set<number> {
  const tables = font.readUInt16BE(4);
  let cmap = -1;
  for (let i = 0; i < tables; i++) {
    const at = 12 + 16 * i;
    if (font.toString('latin1', at, at + 4) === 'cmap') cmap = font.readUInt32BE(at + 8);
  }
  expect(cmap).toBeGreaterThan(0);
  const signs = new Set<number>();
  for (let i = 0; i < font.readUInt16BE(cmap + 2); i++) {
    const sub = cmap + font.readUInt32BE(cmap + 4 + 8 * i + 4);
    if (font.readUInt16BE(sub) !== 4) continue;
    const twice = font.readUInt16BE(sub + 6);
    const [ends, starts, deltas, offsets] = [14, 16 + twice, 16 + 2 * twice, 16 + 3 * twice].map(
      (n) => sub + n,
    );
    for (let s = 0; s < twice; s += 2) {
      const end = font.readUInt16BE(ends! + s);
      const start = font.readUInt16BE(starts! + s);
      const offset = font.readUInt16BE(offsets! + s);
      for (let code = start; code <= end && code !== 0xffff; code++) {
        const direct = (code + font.readUInt16BE(deltas! + s)) & 0xffff;
        const glyph = offset === 0 ? direct : font.readUInt16BE(offsets! + s + offset + 2 * (code - start));
        if (glyph !== 0) signs.add(code);
      }
    }
  }
  return signs;
}

const fontFile = (name: string): Buffer => readFileSync(path.join(root, 'public/fonts', name));

beforeAll(() => {
  const made = spawnSync(process.execPath, ['scripts/fonts.mjs'], { cwd: root, encoding: 'utf8' });
  if (made.status !== 0) throw new Error(`scripts/fonts.mjs failed: ${made.stderr}`);
});

describe.each(['NotoSans-Regular', 'NotoSans-Bold'])('%s', (name) => {
  test('has every sign that plans and both languages use', () => {
    const signs = signsOf(fontFile(`${name}.ttf`));
    const wanted = ' ~0123456789AZaz′″²³°Ø×–—…½¼¾⅛⅜⅝⅞áéíóúüñÁÉÍÓÚÜÑ¿¡«»€±−µ·•ŒœŁ\u00a0';
    const missing = [...wanted].filter((sign) => !signs.has(sign.codePointAt(0)!));
    expect(missing).toEqual([]);
    // A subset, not the whole font of some 3,000 signs.
    expect(signs.size).toBeLessThan(600);
  });

  test('the file for the screen is a WOFF2 file, smaller than the other', () => {
    const woff = fontFile(`${name}.woff2`);
    expect(woff.toString('latin1', 0, 4)).toBe('wOF2');
    expect(woff.length).toBeLessThan(fontFile(`${name}.ttf`).length);
  });
});

test('the licence lies beside the fonts', () => {
  expect(fontFile('OFL.txt').toString('utf8')).toMatch(/SIL OPEN FONT LICENSE/i);
});
