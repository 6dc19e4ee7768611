import type { Point } from '../base/point.ts';
import type { TextMark } from './marks.ts';

/** Width of a letter and height of a line, as shares of the type size; Noto Sans averages 0.55 over prose. */
const LETTER = 0.55;
const LINE = 1.15;
/** Shifts tried in turn when the wanted place is taken, in lines up and down; farther off it names the wrong thing. */
const TRIES = [0, -1, 1, -1.5, 1.5];

interface Spot {
  readonly minX: number;
  readonly minY: number;
  readonly maxX: number;
  readonly maxY: number;
}

/** The upright box round a line of text, millimetres of pen, y down. */
function boxOfText(mark: TextMark, [x, y]: Point, dyMm: number): Spot {
  const width = mark.text.length * mark.sizeMm * LETTER;
  const height = mark.sizeMm * LINE;
  const [sx, sy] = mark.shiftMm ?? [0, 0];
  const left = sx - (mark.anchor === 'middle' ? width / 2 : mark.anchor === 'end' ? width : 0);
  const bottom = sy + dyMm + height * 0.2;
  if (!mark.turnDeg)
    return { minX: x + left, maxX: x + left + width, minY: y + bottom - height, maxY: y + bottom };
  const turn = (-mark.turnDeg * Math.PI) / 180;
  const corners = [
    [left, bottom],
    [left + width, bottom],
    [left, bottom - height],
    [left + width, bottom - height],
  ].map(([u, v]): Point => [
    x + u! * Math.cos(turn) - v! * Math.sin(turn),
    y + u! * Math.sin(turn) + v! * Math.cos(turn),
  ]);
  return {
    minX: Math.min(...corners.map((c) => c[0])),
    maxX: Math.max(...corners.map((c) => c[0])),
    minY: Math.min(...corners.map((c) => c[1])),
    maxY: Math.max(...corners.map((c) => c[1])),
  };
}

const overlap = (a: Spot, b: Spot) =>
  a.minX < b.maxX && a.maxX > b.minX && a.minY < b.maxY && a.maxY > b.minY;

/** Side of the squares by which taken spots are found again, millimetres: a word is a few of them long. */
const SQUARE_MM = 12;

/** Spots that lettering has taken. */
class TakenSpots {
  private readonly squares = new Map<string, Spot[]>();

  isFree(spot: Spot): boolean {
    for (const key of squaresOf(spot))
      if (this.squares.get(key)?.some((other) => overlap(spot, other))) return false;
    return true;
  }

  take(spot: Spot): void {
    for (const key of squaresOf(spot)) {
      const list = this.squares.get(key);
      if (list) list.push(spot);
      else this.squares.set(key, [spot]);
    }
  }
}

function* squaresOf({ minX, minY, maxX, maxY }: Spot): Generator<string> {
  for (let i = Math.floor(minX / SQUARE_MM); i <= Math.floor(maxX / SQUARE_MM); i++)
    for (let k = Math.floor(minY / SQUARE_MM); k <= Math.floor(maxY / SQUARE_MM); k++) yield `${i} ${k}`;
}

/**
 * Texts of a drawing moved line by line until they do not cover one another, the larger ones first. A text that
 * finds no room is left out, or with `keepAll` stays where it was: on paper a word too many is better than a run
 * without a name. Those that may drop are placed last, and left out in any case where they find no room. Texts too long for what they stand for are left out in any case.
 * @param mmPerMetre millimetres of pen to a metre of ground
 */
export function legible(texts: readonly TextMark[], mmPerMetre: number, keepAll: boolean): TextMark[] {
  const taken = new TakenSpots();
  const placed: TextMark[] = [];
  const weight = (mark: TextMark) => mark.sizeMm * (mark.bold ? 1.2 : 1) - (mark.mayDrop ? 100 : 0);
  const fitting = texts.filter(
    ({ text, sizeMm, fitM, acrossM }) =>
      (fitM === undefined || text.length * sizeMm * LETTER <= fitM * mmPerMetre) &&
      (keepAll || acrossM === undefined || sizeMm <= acrossM * mmPerMetre),
  );
  for (const mark of fitting.toSorted((a, b) => weight(b) - weight(a))) {
    const place: Point = [mark.at[0] * mmPerMetre, -mark.at[1] * mmPerMetre];
    const found = TRIES.map((lines) => lines * mark.sizeMm * LINE).find((dy) => {
      return taken.isFree(boxOfText(mark, place, dy));
    });
    if (found === undefined && (!keepAll || mark.mayDrop)) continue;
    const dy = found ?? 0;
    taken.take(boxOfText(mark, place, dy));
    const [sx, sy] = mark.shiftMm ?? [0, 0];
    placed.push(dy === 0 ? mark : { ...mark, shiftMm: [sx, sy + dy] });
  }
  return placed;
}
