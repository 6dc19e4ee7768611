import type { ReactElement } from 'react';
import { formatQuantity } from '../../../base/quantity.ts';
import { twoFigures } from '../../../derive/wording.ts';
import { LEAD_REACH_M, type Leads } from '../../../layout/live/index.ts';
import type { FillFigures, FillNote } from '../../../layout/rows/index.ts';
import { useEditorState } from '../../services.ts';
import type { Shown } from '../../words/fill.ts';
import { useWords } from '../../words/index.ts';
import { Figures } from '../Figures.tsx';

/** Under this length on paving nothing is said, metres: the hair between an edge and what lies on it. */
const SLEEVE_LEAST_M = 0.05;

/** Figures of rows or rings, and what the person should know of them. */
export function FillOutcome({
  figures,
  notes,
  leads,
  heads,
  askedM,
}: {
  readonly figures: FillFigures;
  readonly notes: readonly FillNote[];
  readonly leads: readonly Leads[];
  /** Row spacing that was asked for, metres: told where rows spread evenly lie otherwise. */
  readonly askedM?: number;
  /** The first rows of the table, in place of those of a bed. */
  readonly heads?: readonly (readonly [string, string])[];
}): ReactElement {
  const words = useWords().fill;
  const follow = useWords().follow;
  const units = useEditorState((state) => state.units);
  const shown: Shown = {
    rate: (mmPerH) => formatQuantity('rate', mmPerH, units),
    length: (metres) => formatQuantity('length', metres, units),
    spacing: (metres) => formatQuantity('spacing', metres, units),
    pressure: (kPa) => formatQuantity('pressure', kPa, units),
    flow: (lph) => formatQuantity('zoneFlow', lph, units),
    flows: (a, b) => twoFigures('zoneFlow', a, b, units),
    rates: (a, b) => twoFigures('rate', a, b, units),
  };
  const { rows, pieces, rowSpacingM, lowerSpacingM } = figures;
  const tooFar = leads.reduce((sum, one) => sum + one.tooFar, 0);
  const crossings = leads.reduce((sum, one) => sum + one.crossings, 0);
  const sleeveM = leads.reduce((sum, one) => sum + one.sleeveM, 0);
  const isAsAsked = askedM === undefined || shown.spacing(askedM) === shown.spacing(rowSpacingM);
  const spread = isAsAsked ? '' : `, ${words.figures.spread(shown.spacing(askedM))}`;
  const told = [
    ...new Map(notes.map((note) => [note.kind, words.note(note, shown)])),
    ...(tooFar > 0 ? [['too-far', follow.tooFar(tooFar, shown.length(LEAD_REACH_M))] as const] : []),
    ...(crossings > 0 ? [['crossings', follow.crossings(crossings)] as const] : []),
    ...(sleeveM > SLEEVE_LEAST_M ? [['sleeve', follow.sleeve(shown.length(sleeveM))] as const] : []),
  ];
  return (
    <>
      <Figures
        rows={[
          ...(heads ?? [
            [words.figures.rows, pieces === rows ? String(rows) : `${rows}, ${words.pieces(pieces)}`],
            [
              words.figures.spacing,
              `${shown.spacing(rowSpacingM)}${spread}${lowerSpacingM === null ? '' : `, ${words.figures.lower} ${shown.spacing(lowerSpacingM)}`}`,
            ],
          ]),
          [words.figures.length, shown.length(figures.lengthM)],
          ...(figures.headerLengthM > 0
            ? [[words.figures.headers, shown.length(figures.headerLengthM)] as const]
            : []),
          [words.figures.emitters, String(figures.emitters)],
          [words.figures.flow, shown.flow(figures.flowLph)],
          [words.figures.rate, shown.rate(figures.rateMmPerH), words.figures.rateTitle],
          [words.figures.water, formatQuantity('volume', figures.volumeL, units)],
        ]}
      />
      {told.length > 0 && (
        <ul className="plain-list" data-testid="fill-notes">
          {told.map(([kind, text]) => (
            <li key={kind}>{text}</li>
          ))}
        </ul>
      )}
    </>
  );
}
