import type { ReactElement } from 'react';
import { formatQuantity } from '../../base/quantity.ts';
import { RESIDUAL_LIMIT_PERCENT, type Flattening, type HeldLength } from '../../derive/index.ts';
import type { SitePhoto } from '../../plan/records.ts';
import { useEditorState } from '../services.ts';
import { useWords } from '../words/index.ts';
import { Figures } from './Figures.tsx';
import { FlatPreview } from './FlatPreview.tsx';

/** What is known of the figure on the ground. */
export type Kind = 'sides' | 'rectangle';
/** Sides 1–2, 2–3, 3–4 and 4–1, then diagonals 1–3 and 2–4, metres. */
export type Lengths = readonly [
  number | null,
  number | null,
  number | null,
  number | null,
  number | null,
  number | null,
];
export const NO_LENGTHS: Lengths = [null, null, null, null, null, null];
/** The marks between which the lengths are, counted from 1. */
export const PAIRS = [
  [1, 2],
  [2, 3],
  [3, 4],
  [4, 1],
  [1, 3],
  [2, 4],
] as const;
/** Shares of the photo below which leaving it out is not worth a word. */
const WORTH_TELLING = 0.01;

/** The marks, counted from 1, between which a length was measured; null for a line that was on the photo before. */
export function pairOf(
  { of }: HeldLength,
  photo: SitePhoto,
  lengths: Lengths,
): readonly [number, number] | null {
  if (of.kind !== 'line') return [of.from + 1, of.to + 1];
  // A rectangle's diagonals follow the photo's own lines, those that were measured.
  const diagonals = [4, 5].filter((index) => lengths[index] !== null);
  const index = diagonals[of.line - photo.measures.length];
  return index === undefined ? null : PAIRS[index]!;
}

interface Props {
  readonly photo: SitePhoto;
  readonly flattening: Flattening;
  readonly lengths: Lengths;
  readonly kind: Kind;
}

/** How well the lengths agree. */
export function Agreement({ photo, flattening, lengths, kind }: Props): ReactElement {
  const words = useWords();
  const units = useEditorState((state) => state.units);
  const { flat } = flattening;
  const { worst } = flat;
  const percent = (value: number) => formatQuantity('percent', Math.abs(value), units, { digits: 1 });
  const nameOf = (held: HeldLength): string => {
    const pair = pairOf(held, photo, lengths);
    if (!pair) return words.rectify.line(held.of.kind === 'line' ? held.of.line + 1 : 0);
    const diagonal = Math.abs(pair[0] - pair[1]) === 2;
    return diagonal ? words.rectify.diagonal(...pair) : words.rectify.side(...pair);
  };
  const own = flat.lengths.filter((held) => held.of.kind === 'line' && !pairOf(held, photo, lengths));
  const bad = worst !== null && Math.abs(worst.residualPercent) > RESIDUAL_LIMIT_PERCENT;
  return (
    <>
      {worst ? (
        <p className="residual" data-warn={bad} data-testid="flat-residual">
          {words.rectify.worst}: <strong>{percent(worst.residualPercent)}</strong>, {nameOf(worst)}
        </p>
      ) : (
        <p className="advice" data-severity="info">
          {kind === 'rectangle' ? words.rectify.uncheckedRectangle : words.rectify.unchecked}
        </p>
      )}
      {bad && (
        <p className="advice" data-severity="warning">
          {words.rectify.tooFar}
        </p>
      )}
      {own.length > 0 && (
        <Figures
          rows={own.map((held) => [
            nameOf(held),
            `${formatQuantity('length', held.fittedM, units)} (${percent(held.residualPercent)})`,
          ])}
        />
      )}
    </>
  );
}

/** What the flat picture looks like, and how large it is. */
export function FlatFigures({ photo, flattening }: Pick<Props, 'photo' | 'flattening'>): ReactElement {
  const words = useWords();
  const units = useEditorState((state) => state.units);
  const { flat } = flattening;
  return (
    <>
      <FlatPreview photo={photo} flattening={flattening} />
      {flat.leftOut > WORTH_TELLING && (
        <p className="quiet-text">
          {words.rectify.leftOut(formatQuantity('percent', 100 * flat.leftOut, units, { digits: 0 }))}
        </p>
      )}
      <Figures
        rows={[
          [words.rectify.size, `${flat.widthPx} × ${flat.heightPx} px`],
          [words.rectify.pixel, formatQuantity('spacing', 1 / flat.pixelsPerMetre, units, { digits: 2 })],
        ]}
      />
    </>
  );
}
