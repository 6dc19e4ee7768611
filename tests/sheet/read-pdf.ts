import { readFileSync } from 'node:fs';
import { getDocument, OPS } from 'pdfjs-dist/legacy/build/pdf.mjs';
import type { SheetFonts } from '../../src/sheet/index.ts';

/** Reads what a PDF file really draws, in points from the lower left corner, by an independent reader. */

const FONTS = '../../node_modules/@expo-google-fonts/noto-sans/';
const font = (path: string): Uint8Array =>
  new Uint8Array(readFileSync(new URL(FONTS + path, import.meta.url)));

/** The full fonts, as the packaged ones are subsets of them. */
export function testFonts(): SheetFonts {
  return {
    regular: font('400Regular/NotoSans_400Regular.ttf'),
    bold: font('700Bold/NotoSans_700Bold.ttf'),
  };
}

export interface DrawnPath {
  readonly stroke: string;
  readonly points: readonly (readonly [x: number, y: number])[];
}

export interface DrawnText {
  readonly text: string;
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export interface DrawnPage {
  readonly widthPt: number;
  readonly heightPt: number;
  readonly paths: readonly DrawnPath[];
  readonly texts: readonly DrawnText[];
  readonly pictures: readonly (readonly number[])[];
}

type Matrix = readonly [number, number, number, number, number, number];
const UNIT: Matrix = [1, 0, 0, 1, 0, 0];

function times(m: Matrix, [a, b, c, d, e, f]: Matrix): Matrix {
  return [
    m[0] * a + m[2] * b,
    m[1] * a + m[3] * b,
    m[0] * c + m[2] * d,
    m[1] * c + m[3] * d,
    m[0] * e + m[2] * f + m[4],
    m[1] * e + m[3] * f + m[5],
  ];
}

/** Numbers that follow each kind of piece in the reader's path arrays: move, line, curve, quadratic curve, close. */
const NUMBERS = [2, 2, 6, 4, 0];

function pointsOf(path: ArrayLike<number>, m: Matrix): [number, number][] {
  const points: [number, number][] = [];
  for (let i = 0; i < path.length;) {
    const count = NUMBERS[path[i]!]!;
    for (let k = 1; k <= count; k += 2) {
      const [x, y] = [path[i + k]!, path[i + k + 1]!];
      points.push([m[0] * x + m[2] * y + m[4], m[1] * x + m[3] * y + m[5]]);
    }
    i += count + 1;
  }
  return points;
}

export async function readPdf(bytes: Uint8Array): Promise<DrawnPage[]> {
  const task = getDocument({ data: bytes.slice(), verbosity: 0 });
  const document = await task.promise;
  const pages: DrawnPage[] = [];
  for (let number = 1; number <= document.numPages; number++) {
    const page = await document.getPage(number);
    const [, , widthPt = 0, heightPt = 0] = page.view;
    const { fnArray, argsArray } = await page.getOperatorList();
    const paths: DrawnPath[] = [];
    const pictures: Matrix[] = [];
    let state = { m: UNIT, stroke: '' };
    const stack: (typeof state)[] = [];
    fnArray.forEach((operator, i) => {
      const args = argsArray[i] as unknown[];
      if (operator === OPS.save) stack.push({ ...state });
      else if (operator === OPS.restore) state = stack.pop() ?? state;
      else if (operator === OPS.transform) {
        state = { ...state, m: times(state.m, args as unknown as Matrix) };
      } else if (operator === OPS.setStrokeRGBColor) state = { ...state, stroke: String(args[0]) };
      else if (operator === OPS.constructPath) {
        const [path] = args[1] as [ArrayLike<number> | null];
        if (path) paths.push({ stroke: state.stroke, points: pointsOf(path, state.m) });
      } else if (operator === OPS.paintImageXObject) pictures.push(state.m);
    });
    const content = await page.getTextContent();
    const texts = content.items.flatMap((item): DrawnText[] => {
      if (!('str' in item) || item.str === '') return [];
      const [, , , , x, y] = item.transform as number[];
      return [{ text: item.str, x: x!, y: y!, width: item.width, height: item.height }];
    });
    pages.push({ widthPt, heightPt, paths, texts, pictures });
  }
  await task.destroy();
  return pages;
}
