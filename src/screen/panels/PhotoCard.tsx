import { useMemo, type ReactElement } from 'react';
import { formatQuantity } from '../../base/quantity.ts';
import { fitPhoto } from '../../derive/photo-fit.ts';
import { shownPlan } from '../../editor/index.ts';
import { setPhoto } from '../../plan/edits/index.ts';
import type { SitePhoto } from '../../plan/records.ts';
import { QuantityField } from '../fields/QuantityField.tsx';
import { useEditor, useEditorState, useServices } from '../services.ts';
import { useWords } from '../words/index.ts';
import { Section } from './Figures.tsx';

/** Scale, residual and looks of the site photo. */
export function PhotoCard({ onOpen }: { onOpen(): void }): ReactElement {
  const words = useWords();
  const photo = useEditorState((state) => state.history.plan.photo);
  if (!photo) {
    return (
      <Section id="survey-photo" title={words.photo.title}>
        <p className="quiet-text">{words.photo.none}</p>
        <div className="row">
          <button type="button" onClick={onOpen}>
            {words.photo.open}
          </button>
        </div>
      </Section>
    );
  }
  return <PhotoOf photo={photo} onOpen={onOpen} />;
}

function PhotoOf({ photo, onOpen }: { readonly photo: SitePhoto; onOpen(): void }): ReactElement {
  const editor = useEditor();
  const { flattening } = useServices();
  const words = useWords();
  const units = useEditorState((state) => state.units);
  const fit = useMemo(() => fitPhoto(photo), [photo]);
  const set = (label: string, fields: Partial<SitePhoto>) =>
    editor.commit(setPhoto(label, { ...photo, ...fields }));
  const percent = (value: number) => formatQuantity('percent', value, units, { digits: 1 });
  return (
    <Section id="survey-photo" title={words.photo.title}>
      <p className="quiet-text">
        {photo.name}
        {photo.rectification && ` · ${words.rectify.isFlat}`}
      </p>
      {photo.measures.length > 0 && (
        <ul className="measures">
          {photo.measures.map((measure, i) => {
            const line = fit.lines[i];
            return (
              <li key={i}>
                <QuantityField
                  label={`${i + 1} · ${measure.role === 'fit' ? words.photo.fit : words.photo.check}`}
                  kind="length"
                  value={measure.lengthM}
                  min={0.01}
                  max={5000}
                  hint={
                    !line || photo.measures.length < 2
                      ? ''
                      : Math.abs(line.residualPercent) < 0.05
                        ? words.photo.agrees
                        : `${percent(Math.abs(line.residualPercent))} (${formatQuantity('spacing', Math.abs(line.residualM), units)}) ${line.residualM > 0 ? words.photo.short : words.photo.long}`
                  }
                  onChange={(lengthM) =>
                    lengthM !== null &&
                    set('Change measured length', {
                      measures: photo.measures.map((m, j) => (j === i ? { ...m, lengthM } : m)),
                    })
                  }
                />
                <button
                  type="button"
                  className="quiet"
                  aria-label={`${words.photo.delete} ${i + 1}`}
                  title={words.photo.delete}
                  onClick={() =>
                    set('Delete measured line', { measures: photo.measures.filter((_, j) => j !== i) })
                  }
                >
                  ×
                </button>
              </li>
            );
          })}
        </ul>
      )}
      {photo.measures.length > 1 && (
        <p className="residual" data-warn={fit.worstPercent > 2} data-testid="photo-residual">
          {words.photo.worst}: <strong>{percent(fit.worstPercent)}</strong>,{' '}
          {formatQuantity('spacing', fit.worstM, units)}
        </p>
      )}
      {fit.warnings.map((warning) => (
        <p key={warning.message} className="advice" data-severity={warning.severity}>
          {warning.message}
        </p>
      ))}
      <div className="row">
        <button type="button" onClick={() => editor.chooseTool('measure')}>
          {words.photo.mark}
        </button>
        <button type="button" onClick={() => editor.chooseTool('rectify')}>
          {words.rectify.begin}
        </button>
        {photo.rectification && (
          <button type="button" className="quiet" onClick={() => void flattening.takeBack()}>
            {words.rectify.takeBack}
          </button>
        )}
        <button type="button" className="quiet" onClick={onOpen}>
          {words.photo.replace}
        </button>
        <button type="button" className="quiet" onClick={() => editor.commit(setPhoto('Remove photo', null))}>
          {words.photo.remove}
        </button>
      </div>
      <Strength photo={photo} />
      <QuantityField
        label={words.photo.turn}
        kind="angle"
        value={photo.turnDeg}
        min={-360}
        max={360}
        onChange={(turnDeg) => turnDeg !== null && set('Turn photo', { turnDeg })}
      />
      {!fit.scaled && (
        <QuantityField
          label={words.photo.width}
          kind="length"
          value={photo.assumedWidthM}
          min={0.5}
          max={2000}
          onChange={(assumedWidthM) => assumedWidthM !== null && set('Assume width', { assumedWidthM })}
        />
      )}
    </Section>
  );
}

/** Live while the knob moves, one step of history when it is let go. */
function Strength({ photo }: { readonly photo: SitePhoto }): ReactElement {
  const editor = useEditor();
  const words = useWords();
  const shown = useEditorState((state) => shownPlan(state).photo?.strength ?? photo.strength);
  const edit = (strength: number) => setPhoto('Photo strength', { ...photo, strength });
  const keep = () => {
    editor.preview(null);
    if (shown !== photo.strength) editor.commit(edit(shown));
  };
  return (
    <label className="slider">
      {words.photo.strength}
      <input
        type="range"
        min={0}
        max={100}
        value={Math.round(shown * 100)}
        onChange={(event) => editor.preview(edit(Number(event.currentTarget.value) / 100))}
        onPointerUp={keep}
        onKeyUp={keep}
        onBlur={keep}
      />
    </label>
  );
}
