import { useMemo, type ReactElement } from 'react';
import { formatQuantity } from '../../../base/quantity.ts';
import { INTAKE_TABLES } from '../../../catalog/index.ts';
import { existingOf } from '../../../derive/existing/index.ts';
import {
  bedSlope,
  intakeOf,
  pondingOf,
  type IntakeFigure,
  type SoilIntake,
} from '../../../derive/soil/index.ts';
import type { Soil } from '../../../plan/records.ts';
import { ChoiceField } from '../../fields/ChoiceField.tsx';
import { QuantityField } from '../../fields/QuantityField.tsx';
import { useEditorState } from '../../services.ts';
import { useWords } from '../../words/index.ts';
import { Figures } from '../Figures.tsx';

interface Props {
  readonly soil: Soil;
  onChange(label: string, fields: Partial<Soil>): void;
}

/** From so many minutes on a time is shown in hours. */
const LONG_MIN = 120;

/** Fastest intake that can be typed, mm/h. */
const FASTEST_MM_PER_H = 5000;

/** How fast the soil takes in water: measured, or by the tables at the slope of the beds, with their range. */
export function IntakeFields({ soil, onChange }: Props): ReactElement {
  const words = useWords().soil.intake;
  const units = useEditorState((state) => state.units);
  const plan = useEditorState((state) => state.history.plan);
  const { areas, levels, falls } = plan;
  const slope = useMemo(() => bedSlope({ areas, levels, falls }), [areas, levels, falls]);
  const intake = intakeOf(soil, slope?.meanPercent ?? null);
  const rate = (mmPerH: number) => formatQuantity('rate', mmPerH, units);
  const range = (low: number, high: number) =>
    rate(low) === rate(high)
      ? rate(low)
      : `${formatQuantity('rate', low, units, { unit: false })} ${words.to} ${rate(high)}`;
  const percent = (value: number) => formatQuantity('slope', value, units);
  const rows: [string, string, string?][] = [
    [
      words.slope,
      slope
        ? `${percent(slope.meanPercent)}${
            slope.steepestPercent > slope.meanPercent + 0.5
              ? `, ${words.steepest} ${percent(slope.steepestPercent)}`
              : ''
          }`
        : words.noSlope,
    ],
  ];
  if (intake) {
    const held = intake.limitedByFabric ? `, ${words.byFabric}` : '';
    rows.push([words.used, `${rate(intake.mmPerH)}${held}`, intake.source]);
    if (intake.tables.length > 1) {
      rows.push([words.range, range(intake.range.lowMmPerH, intake.range.highMmPerH)]);
    }
  }
  const chosen = soil.intakeTable !== null && INTAKE_TABLES.some(({ id }) => id === soil.intakeTable);
  return (
    <div className="working soil-part" role="group" aria-label={words.head}>
      <h3 className="field-head">{words.head}</h3>
      <QuantityField
        label={words.measured}
        kind="rate"
        value={soil.intakeMmPerH}
        nullable
        max={FASTEST_MM_PER_H}
        hint={words.measuredHint}
        onChange={(intakeMmPerH) => onChange('Change intake', { intakeMmPerH })}
      />
      <Figures rows={rows} />
      <Ponding soil={soil} />
      {slope && slope.outsideShare > 0 && <p className="field-note">{words.beyond}</p>}
      {intake?.notes.map((note) => (
        <p key={note} className="field-note">
          {note}
        </p>
      ))}
      <ChoiceField
        label={words.table}
        value={chosen ? soil.intakeTable! : ''}
        options={[
          { value: '', label: `${INTAKE_TABLES[0]!.name} (${words.usual})` },
          ...INTAKE_TABLES.slice(1).map(({ id, name }) => ({ value: id, label: name })),
        ]}
        onChange={(id) => onChange('Choose intake table', { intakeTable: id === '' ? null : id })}
      />
      {intake && intake.tables.length > 0 ? (
        <Tables intake={intake} range={range} />
      ) : (
        <p className="field-note">{words.noTexture}</p>
      )}
      <p className="advice">{words.caution}</p>
    </div>
  );
}

/** What each table says, and where it comes from. */
function Tables({
  intake,
  range,
}: {
  readonly intake: SoilIntake;
  range(low: number, high: number): string;
}): ReactElement {
  const words = useWords().soil.intake;
  const where = ({ bySlope, standIn }: IntakeFigure) =>
    [bySlope ? '' : words.level, standIn ?? ''].filter((part) => part !== '').join('; ');
  return (
    <>
      <table className="schedule tables" aria-label={words.tables}>
        <thead>
          <tr>
            <th scope="col">{words.name}</th>
            <th scope="col">{words.figure}</th>
          </tr>
        </thead>
        <tbody>
          {intake.tables.map((table) => (
            <tr key={table.id} aria-selected={table.id === intake.tableId} title={table.source}>
              <td>
                {table.name}
                {where(table) && <span className="field-note"> ({where(table)})</span>}
              </td>
              <td>{range(table.lowMmPerH, table.highMmPerH)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <details className="bands">
        <summary>{words.sources}</summary>
        <ul>
          {intake.tables.map(({ id, name, source, fromMemory }) => (
            <li key={id}>
              {name}: {source}.
              {fromMemory && (
                <>
                  {' '}
                  {words.fromMemory}: {fromMemory}.
                </>
              )}
            </li>
          ))}
        </ul>
      </details>
    </>
  );
}

/** Minutes until water stands at the rate of the sprays that are there. */
function Ponding({ soil }: { readonly soil: Soil }): ReactElement | null {
  const words = useWords().soil.intake;
  const units = useEditorState((state) => state.units);
  const plan = useEditorState((state) => state.history.plan);
  const rateMmPerH = useMemo(() => existingOf(plan).precipitationMmPerH, [plan]);
  const ponding = rateMmPerH === null ? null : pondingOf(soil, rateMmPerH);
  if (rateMmPerH === null || !ponding) return null;
  const after = (minutes: number | null) => {
    if (minutes === null) return words.never;
    return minutes < LONG_MIN
      ? `${minutes.toFixed(minutes < 10 ? 1 : 0)} ${words.minutes}`
      : `${(minutes / 60).toFixed(1)} ${words.hours}`;
  };
  const rows: [string, string, string?][] = [[words.ponding, after(ponding.minutes), ponding.source]];
  if (ponding.withMeasuredIntake) {
    rows.push([words.pondingMeasured, after(ponding.withMeasuredIntake.minutes), ponding.source]);
  }
  return (
    <>
      <Figures rows={rows} />
      <p className="field-note">
        {words.atRate} {formatQuantity('rate', rateMmPerH, units)}. {ponding.caution}
      </p>
    </>
  );
}
