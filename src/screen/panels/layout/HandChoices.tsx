import type { ReactElement } from 'react';
import { formatQuantity } from '../../../base/quantity.ts';
import { groundOf } from '../../../derive/index.ts';
import { readTape, stemSpacing, tapePlaces, type Choices, type Taping } from '../../../editor/index.ts';
import { ChoiceField } from '../../fields/ChoiceField.tsx';
import { QuantityField } from '../../fields/QuantityField.tsx';
import { useEditor, useEditorState } from '../../services.ts';
import { useWords } from '../../words/index.ts';
import { Figures } from '../Figures.tsx';
import { PlantFieldsForm } from '../plant-fields.tsx';
import { Tick } from './FillFields.tsx';

type HandTool = 'lasso' | 'row' | 'grid' | 'brush' | 'tape';

/** What the tools of hand work do next; for the tape, what it reads. */
export function HandChoices({ tool }: { readonly tool: HandTool }): ReactElement {
  if (tool === 'tape') return <TapeFigures />;
  if (tool === 'lasso') return <LassoChoices />;
  return <PlantChoices tool={tool} />;
}

function LassoChoices(): ReactElement {
  const editor = useEditor();
  const words = useWords().hand;
  const lasso = useEditorState((state) => state.choices.lasso);
  const clip = useEditorState((state) => state.clip);
  const set = (fields: Partial<Choices['lasso']>) => editor.setChoices({ lasso: { ...lasso, ...fields } });
  return (
    <>
      <ChoiceField
        label={words.lasso.form}
        value={lasso.form}
        options={(['free', 'box'] as const).map((value) => ({ value, label: words.lasso.forms[value] }))}
        onChange={(form) => set({ form })}
      />
      <ChoiceField
        label={words.lasso.does}
        value={lasso.does}
        options={(['choose', 'add', 'take'] as const).map((value) => ({
          value,
          label: words.lasso.doing[value],
        }))}
        hint={words.lasso.note}
        onChange={(does) => set({ does })}
      />
      {clip && (
        <div className="row">
          <button type="button" title={words.chosen.pasteHint} onClick={() => editor.paste()}>
            {words.chosen.paste}
          </button>
        </div>
      )}
    </>
  );
}

function PlantChoices({ tool }: { readonly tool: 'row' | 'grid' | 'brush' }): ReactElement {
  const editor = useEditor();
  const words = useWords().hand.plants;
  const units = useEditorState((state) => state.units);
  const choices = useEditorState((state) => state.choices);
  const { row, grid, brush } = choices;
  const setRow = (fields: Partial<Choices['row']>) => editor.setChoices({ row: { ...row, ...fields } });
  const setGrid = (fields: Partial<Choices['grid']>) => editor.setChoices({ grid: { ...grid, ...fields } });
  const setBrush = (fields: Partial<Choices['brush']>) =>
    editor.setChoices({ brush: { ...brush, ...fields } });
  const erasing = tool === 'brush' && brush.erase;
  const rowSpacing = (value: number | null, stagger: boolean, onChange: (next: number | null) => void) => (
    <QuantityField
      label={words.rowSpacing}
      kind="length"
      value={value}
      min={0.05}
      max={100}
      nullable
      empty={stagger ? words.triangle : words.square}
      hint={words.rowNote}
      onChange={onChange}
    />
  );
  return (
    <>
      {tool === 'brush' && (
        <>
          <Tick label={words.erase} checked={brush.erase} onChange={(erase) => setBrush({ erase })} />
          <QuantityField
            label={words.radius}
            kind="length"
            value={brush.radiusM}
            min={0.05}
            max={50}
            onChange={(radiusM) => radiusM !== null && setBrush({ radiusM })}
          />
        </>
      )}
      {!erasing && (
        <QuantityField
          label={words.spacing}
          kind="length"
          value={choices.stemSpacingM}
          min={0.05}
          max={100}
          nullable
          empty={`${words.asCanopy}: ${formatQuantity('length', stemSpacing(choices), units)}`}
          hint={words.spacingNote}
          onChange={(stemSpacingM) => editor.setChoices({ stemSpacingM })}
        />
      )}
      {tool === 'row' && (
        <>
          <Tick label={words.bothEnds} checked={row.bothEnds} onChange={(bothEnds) => setRow({ bothEnds })} />
          {!row.bothEnds && (
            <QuantityField
              label={words.first}
              kind="length"
              value={row.firstM}
              min={0}
              max={1000}
              onChange={(firstM) => firstM !== null && setRow({ firstM })}
            />
          )}
          <QuantityField
            label={words.rows}
            kind="count"
            value={row.rows}
            min={1}
            max={500}
            onChange={(rows) => rows !== null && setRow({ rows: Math.round(rows) })}
          />
          {row.rows > 1 && (
            <>
              {rowSpacing(row.rowSpacingM, row.stagger, (rowSpacingM) => setRow({ rowSpacingM }))}
              <Tick label={words.stagger} checked={row.stagger} onChange={(stagger) => setRow({ stagger })} />
            </>
          )}
        </>
      )}
      {tool === 'grid' && (
        <>
          {rowSpacing(grid.rowSpacingM, grid.stagger, (rowSpacingM) => setGrid({ rowSpacingM }))}
          <Tick label={words.stagger} checked={grid.stagger} onChange={(stagger) => setGrid({ stagger })} />
          <QuantityField
            label={words.direction}
            kind="angle"
            value={grid.directionDeg}
            nullable
            empty={words.longest}
            onChange={(directionDeg) => setGrid({ directionDeg })}
          />
          <QuantityField
            label={words.edge}
            kind="length"
            value={grid.edgeM}
            min={0}
            max={50}
            onChange={(edgeM) => edgeM !== null && setGrid({ edgeM })}
          />
          <Tick
            label={words.bedsOnly}
            checked={grid.bedsOnly}
            onChange={(bedsOnly) => setGrid({ bedsOnly })}
          />
        </>
      )}
      {!erasing && (
        <>
          {tool === 'brush' && (
            <Tick
              label={words.bedsOnly}
              checked={brush.bedsOnly}
              onChange={(bedsOnly) => setBrush({ bedsOnly })}
            />
          )}
          <PlantFieldsForm
            value={choices.plant}
            onChange={(fields) => editor.setChoices({ plant: { ...choices.plant, ...fields } })}
          />
        </>
      )}
    </>
  );
}

/** Whether runs follow the contour line while they are drawn. */
export function ContourTick(): ReactElement {
  const editor = useEditor();
  const words = useWords().hand.contour;
  const follow = useEditorState((state) => state.choices.followContour);
  const sloping = useEditorState((state) => groundOf(state.history.plan).knows === 'slope');
  return (
    <>
      <Tick
        label={words.follow}
        checked={follow}
        onChange={(followContour) => editor.setChoices({ followContour })}
      />
      <p className="field-note">{sloping ? words.note : words.flat}</p>
    </>
  );
}

function TapeFigures(): ReactElement {
  const editor = useEditor();
  const words = useWords().hand.tape;
  const units = useEditorState((state) => state.units);
  const plan = useEditorState((state) => state.history.plan);
  const tape = useEditorState((state) => (state.tool === 'tape' ? (state.toolState as Taping) : null));
  const places = tape ? tapePlaces(tape) : [];
  if (!tape || places.length < 2) return <p className="advice">{words.none}</p>;
  const ring = tape.ended === 'ring';
  const reading = readTape(plan, places, ring);
  const last = reading.legs.at(-1)!;
  const length = (metres: number | null) =>
    metres === null ? words.unknown : formatQuantity('length', metres, units);
  const slope = (percent: number | null) =>
    percent === null ? words.unknown : formatQuantity('slope', percent, units);
  const many = reading.legs.length > 1;
  return (
    <div data-testid="tape">
      <h3>{many ? `${words.leg} ${reading.legs.length}` : words.leg}</h3>
      <Figures
        rows={[
          [words.plan, length(last.planM)],
          [words.ground, length(last.groundM)],
          [words.rise, length(last.riseM)],
          [words.slope, slope(last.slopePercent)],
        ]}
      />
      {many && (
        <>
          <h3>{ring ? words.around : words.total}</h3>
          <Figures
            rows={[
              [words.plan, length(reading.planM)],
              [words.ground, length(reading.groundM)],
              ...(ring ? [] : ([[words.rise, length(reading.riseM)]] as const)),
              ...(ring
                ? ([
                    [
                      words.area,
                      reading.areaM2 === null
                        ? words.crossing
                        : formatQuantity('area', reading.areaM2, units),
                    ],
                  ] as const)
                : []),
            ]}
          />
        </>
      )}
      <div className="row">
        <button type="button" className="quiet" onClick={() => editor.input({ kind: 'escape' })}>
          {words.clear}
        </button>
      </div>
    </div>
  );
}
