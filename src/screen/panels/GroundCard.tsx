import type { ReactElement } from 'react';
import { formatQuantity, type UnitSystem } from '../../base/quantity.ts';
import {
  bedSlopes,
  contourIntervals,
  contoursOfPlan,
  groundNotices,
  groundOf,
  heightRange,
  MOST_CONTOURS,
  SLOPE_CLASSES_SOURCE,
  type BedSlopes,
} from '../../derive/index.ts';
import { contourInterval, SLOPE_COLOURS } from '../../drawing/index.ts';
import { changePart } from '../../plan/edits/index.ts';
import type { Plan } from '../../plan/records.ts';
import { QuantityField } from '../fields/QuantityField.tsx';
import { useEditor, useEditorState } from '../services.ts';
import { useWords } from '../words/index.ts';
import { Figures, Section } from './Figures.tsx';

/** Heights of the site and what follows from them: slopes, contours, cross-section. */
export function GroundCard(): ReactElement {
  const editor = useEditor();
  const words = useWords().ground;
  const plan = useEditorState((state) => state.history.plan);
  const units = useEditorState((state) => state.units);
  const ground = groundOf(plan);
  const range = heightRange(ground);
  const onLine = ground.knows === 'slope' && ground.linked.spots.length > 2 && ground.onLine;
  return (
    <Section id="survey-ground" title={words.title}>
      {ground.knows === 'nothing' && <p className="quiet-text">{words.none}</p>}
      {ground.knows === 'height' && <p className="quiet-text">{words.flat}</p>}
      {onLine && <p className="quiet-text">{words.across}</p>}
      {range && <Heights plan={plan} units={units} range={range} slopes={bedSlopes(plan)} />}
      {groundNotices(plan, units).map((notice) => (
        <p key={notice.message} className="advice" data-severity={notice.severity} title={notice.source}>
          {notice.message}
        </p>
      ))}
      <div className="row">
        <button type="button" onClick={() => editor.chooseTool('level')}>
          {words.setLevel}
        </button>
        <button type="button" onClick={() => editor.chooseTool('fall')}>
          {words.drawFall}
        </button>
        {ground.knows === 'slope' && (
          <button type="button" onClick={() => editor.chooseTool('section')}>
            {words.drawSection}
          </button>
        )}
      </div>
      {ground.knows === 'slope' && range && (
        <Contours plan={plan} units={units} rangeM={range[1] - range[0]} />
      )}
      <SlopeTable slopes={bedSlopes(plan)} units={units} />
    </Section>
  );
}

interface HeightsProps {
  readonly plan: Plan;
  readonly units: UnitSystem;
  readonly range: readonly [number, number];
  readonly slopes: BedSlopes | null;
}

function Heights({ plan, units, range: [lowest, highest], slopes }: HeightsProps): ReactElement {
  const words = useWords().ground;
  const height = (zM: number) => formatQuantity('length', zM, units);
  const percent = (value: number) => formatQuantity('slope', value, units);
  const outside = slopes?.outside.length ?? 0;
  return (
    <>
      <Figures
        rows={[
          [words.levels, String(plan.levels.size)],
          ...(plan.falls.size > 0 ? ([[words.falls, String(plan.falls.size)]] as const) : []),
          [words.heights, `${height(lowest)} … ${height(highest)}`],
          [words.range, height(highest - lowest)],
          ...(slopes
            ? ([
                [words.mean, percent(slopes.meanPercent)],
                [words.steepest, percent(slopes.steepestPercent)],
              ] as const)
            : []),
        ]}
      />
      {outside > 0 && (
        <p className="advice" data-testid="ground-outside">
          {outside} {outside === 1 ? words.outside.one : words.outside.many}. {words.outside.there}
        </p>
      )}
    </>
  );
}

function Contours({
  plan,
  units,
  rangeM,
}: {
  readonly plan: Plan;
  readonly units: UnitSystem;
  readonly rangeM: number;
}): ReactElement {
  const editor = useEditor();
  const words = useWords().ground;
  const { contourM } = plan.site;
  const set = (next: number | null) =>
    editor.commit(changePart('Change contour interval', 'site', { contourM: next }));
  const same = (a: number) => contourM !== null && Math.abs(a - contourM) < 1e-9;
  const lines = contourM === null ? 0 : contoursOfPlan(plan).length;
  return (
    <>
      <QuantityField
        label={words.contours}
        kind="length"
        value={contourM}
        nullable
        empty={words.noContours}
        min={0.01}
        max={100}
        hint={
          contourM === null || lines > 0
            ? words.contourHint
            : rangeM / contourM > MOST_CONTOURS
              ? words.tooFine
              : words.noLines
        }
        onChange={set}
      />
      <div className="row" role="group" aria-label={words.contours}>
        {contourIntervals(rangeM, units).map((step) => (
          <button
            key={step}
            type="button"
            className="quiet"
            title={words.suggest}
            aria-pressed={same(step)}
            onClick={() => set(same(step) ? null : step)}
          >
            {contourInterval(step, units)}
          </button>
        ))}
      </div>
    </>
  );
}

/** The switch of the tints, and how much of the beds lies in each class. */
function SlopeTable({
  slopes,
  units,
}: {
  readonly slopes: BedSlopes | null;
  readonly units: UnitSystem;
}): ReactElement | null {
  const editor = useEditor();
  const words = useWords().ground;
  const shown = useEditorState((state) => state.showSlopes);
  const sloping = useEditorState((state) => groundOf(state.history.plan).knows === 'slope');
  if (!slopes) return sloping ? <p className="quiet-text">{words.noBeds}</p> : null;
  return (
    <>
      <label className="ground-tint">
        <input
          type="checkbox"
          checked={shown}
          onChange={(event) => editor.setShowSlopes(event.currentTarget.checked)}
        />
        {words.tint}
      </label>
      <table className="schedule" aria-label={words.classes} title={SLOPE_CLASSES_SOURCE}>
        <thead>
          <tr>
            <th scope="col">{words.slope}</th>
            <th scope="col">{words.area}</th>
            <th scope="col">{words.share}</th>
          </tr>
        </thead>
        <tbody>
          {slopes.classes.map(
            ({ from, to, areaM2, share }, i) =>
              share > 0.0005 && (
                <tr key={from}>
                  <th scope="row">
                    <span className="ground-swatch" style={{ background: SLOPE_COLOURS[i] }} aria-hidden />
                    {to === Infinity ? `${words.over} ${from} %` : `${from}–${to} %`}
                  </th>
                  <td>{formatQuantity('area', areaM2, units)}</td>
                  <td>{formatQuantity('percent', share * 100, units, { digits: 0 })}</td>
                </tr>
              ),
          )}
        </tbody>
      </table>
    </>
  );
}
