import { useEffect, useLayoutEffect, useMemo, useRef, useState, type ReactElement } from 'react';
import { countFindings } from '../../derive/checks/index.ts';
import { fitPhoto } from '../../derive/photo-fit.ts';
import type { Notice } from '../../derive/results.ts';
import { legendOf, planDrawer, SHEET_SHOW } from '../../drawing/index.ts';
import type { EditorState } from '../../editor/index.ts';
import {
  composeSheets,
  fitScale,
  PAPERS,
  pageToSvg,
  SCALES,
  scalesFor,
  type Orientation,
  type PaperId,
  type ScaleId,
  type SheetSet,
} from '../../sheet/index.ts';
import { ChoiceField } from '../fields/ChoiceField.tsx';
import { useNotices } from '../panels/use-notices.ts';
import { useEditor, useEditorState, useServices } from '../services.ts';
import { useWords } from '../words/index.ts';
import { Dialog } from './Dialog.tsx';

const draw = planDrawer();

/** Printed in the title block where the site has no date of its own. */
const today = () => new Date().toISOString().slice(0, 10);

/** The drawing that the sheets carry: the kept plan, never a gesture under way. */
function drawingOf(state: Pick<EditorState, 'history' | 'answer' | 'units'>) {
  const { plan } = state.history;
  const results = state.answer?.results ?? null;
  const photoMetresPerPixel = plan.photo ? fitPhoto(plan.photo).metresPerPixel : 1;
  return draw(plan, results, {
    units: state.units,
    show: SHEET_SHOW,
    colourRange: null,
    photoMetresPerPixel,
  });
}

/** Addresses of the pictures that the sheets show, once they are there. */
function usePictureUrl(pictureId: string | undefined): string | null {
  const services = useServices();
  const [url, setUrl] = useState<string | null>(null);
  useEffect(() => {
    let gone = false;
    if (!pictureId) return;
    void services.pictureUrl(pictureId).then((found) => {
      if (!gone) setUrl(found);
    });
    return () => {
      gone = true;
    };
  }, [services, pictureId]);
  return url;
}

/** How long the address of a picture that is no longer shown is kept, milliseconds. */
const KEPT_MS = 5000;

/** A sheet as a picture: as an image it can hold no script and ask for nothing. */
function SheetPicture({
  sheets,
  index,
  pictureUrl,
}: {
  readonly sheets: SheetSet;
  readonly index: number;
  readonly pictureUrl: string | null;
}): ReactElement | null {
  const words = useWords();
  const page = sheets.pages[index];
  const [address, setAddress] = useState<string | null>(null);
  useEffect(() => {
    if (!page) return;
    const made = URL.createObjectURL(
      new Blob([pageToSvg(page, () => pictureUrl)], { type: 'image/svg+xml' }),
    );
    setAddress(made);
    // A picture of it may only just be asked for.
    return () => void setTimeout(() => URL.revokeObjectURL(made), KEPT_MS);
  }, [page, pictureUrl]);
  return page && address ? (
    <img src={address} alt={`${words.print.preview} ${index + 1}: ${page.title}`} />
  ) : null;
}

/** What is still open when the sheets are made, and what was accepted. */
function OpenAtPrinting({ notices }: { readonly notices: readonly Notice[] }): ReactElement {
  const words = useWords().checks.print;
  const { error, warning, accepted } = countFindings(notices);
  const open = error + warning > 0;
  return (
    <p
      className={open ? 'advice' : 'field-note'}
      data-severity={error > 0 ? 'error' : undefined}
      data-testid="open-at-printing"
    >
      {open ? words.open(error, warning) : words.none} {accepted > 0 && words.accepted(accepted)}{' '}
      {(open || accepted > 0) && words.said}
    </p>
  );
}

/** Paper, scale and a preview of what will be printed. */
export function PrintDialog({ onClose }: { onClose(): void }): ReactElement {
  const editor = useEditor();
  const services = useServices();
  const words = useWords();
  const history = useEditorState((state) => state.history);
  const answer = useEditorState((state) => state.answer);
  const units = useEditorState((state) => state.units);
  const notices = useNotices();
  // Sheets speak of the running zone, whatever Prove was looking at.
  useEffect(() => {
    editor.setScenario({ kind: 'running' });
    editor.setFriction('darcy-weisbach');
    // A proposal that was not drawn is not built either.
    editor.showKeptOnly(true);
    return () => editor.showKeptOnly(false);
  }, [editor]);
  const [paper, setPaper] = useState<PaperId>(units === 'us' ? 'letter' : 'a4');
  const [orientation, setOrientation] = useState<Orientation>('landscape');
  const layers = useMemo(() => drawingOf({ history, answer, units }), [history, answer, units]);
  const best = useMemo(
    () => fitScale(layers, paper, orientation, units),
    [layers, paper, orientation, units],
  );
  const [chosen, setChosen] = useState<ScaleId | null>(null);
  const scale = chosen ?? best?.id ?? scalesFor(units).at(-1)!.id;
  const [date] = useState(today);
  const [index, setIndex] = useState(0);
  const [state, setState] = useState<'ready' | 'making'>('ready');
  const pictureUrl = usePictureUrl(history.plan.photo?.pictureId);

  const sheets = useMemo(
    () =>
      composeSheets({
        plan: history.plan,
        layers,
        results: answer?.results ?? null,
        legend: legendOf(answer?.results ?? null, units, history.plan),
        notices,
        options: { paper, orientation, scale, units, date },
      }),
    [history, layers, answer, units, notices, paper, orientation, scale, date],
  );
  const shown = Math.min(index, sheets.pages.length - 1);
  const newest = useRef(sheets);
  useLayoutEffect(() => {
    newest.current = sheets;
  }, [sheets]);
  /** Prints what the sheets are once the plan as it is now has its answer. */
  const print = async () => {
    await services.studied();
    // The answer is in the sheets after the next turn.
    await new Promise((resolve) => setTimeout(resolve));
    await services.print(newest.current);
  };

  return (
    <Dialog title={words.print.title} className="print" onClose={onClose}>
      <div className="print-body">
        <div className="print-fields">
          <ChoiceField<PaperId>
            label={words.print.paper}
            value={paper}
            options={PAPERS.map(({ id, name }) => ({ value: id, label: name }))}
            onChange={setPaper}
          />
          <ChoiceField<Orientation>
            label={words.print.orientation}
            value={orientation}
            options={[
              { value: 'landscape', label: words.print.landscape },
              { value: 'portrait', label: words.print.portrait },
            ]}
            onChange={setOrientation}
          />
          <ChoiceField<ScaleId>
            label={words.print.scale}
            value={scale}
            options={SCALES.map(({ id, name }) => ({ value: id, label: name }))}
            onChange={setChosen}
          />
          <p className="field-note">
            {sheets.pages.length} {sheets.pages.length === 1 ? words.print.sheet : words.print.sheets}.{' '}
            {words.print.hint}
          </p>
          <OpenAtPrinting notices={notices} />
          {sheets.warnings.map((warning) => (
            <p key={warning.what} className="advice">
              {warning.what} {warning.todo}
            </p>
          ))}
          <div className="row">
            <button
              type="button"
              className="primary"
              disabled={state === 'making' || sheets.pages.length === 0}
              onClick={() => {
                setState('making');
                void print().finally(() => setState('ready'));
              }}
            >
              {state === 'making' ? words.print.making : words.print.make}
            </button>
            <button type="button" onClick={onClose}>
              {words.print.close}
            </button>
          </div>
        </div>
        <div className="print-preview">
          {sheets.pages.length === 0 ? (
            <p className="quiet-text">{words.print.empty}</p>
          ) : (
            <>
              <SheetPicture sheets={sheets} index={shown} pictureUrl={pictureUrl} />
              {sheets.pages.length > 1 && (
                <div className="row">
                  <button
                    type="button"
                    disabled={shown === 0}
                    onClick={() => setIndex(shown - 1)}
                    aria-label="Previous sheet"
                  >
                    ‹
                  </button>
                  <span>
                    {shown + 1} / {sheets.pages.length}
                  </span>
                  <button
                    type="button"
                    disabled={shown === sheets.pages.length - 1}
                    onClick={() => setIndex(shown + 1)}
                    aria-label="Next sheet"
                  >
                    ›
                  </button>
                </div>
              )}
            </>
          )}
        </div>
      </div>
    </Dialog>
  );
}
