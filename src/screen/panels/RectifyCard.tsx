import { useEffect, useMemo, useRef, useState, type ReactElement } from 'react';
import { formatQuantity } from '../../base/quantity.ts';
import type { Problem } from '../../base/result.ts';
import { examineMarks, flatteningOf, type Flattening, type Measured } from '../../derive/index.ts';
import type { Marking } from '../../editor/index.ts';
import type { PhotoMeasure, SitePhoto } from '../../plan/records.ts';
import { ChoiceField } from '../fields/ChoiceField.tsx';
import { QuantityField } from '../fields/QuantityField.tsx';
import { useEditor, useEditorState, useServices } from '../services.ts';
import { useWords } from '../words/index.ts';
import { Section } from './Figures.tsx';
import {
  Agreement,
  FlatFigures,
  NO_LENGTHS,
  PAIRS,
  pairOf,
  type Kind,
  type Lengths,
} from './FlatOutcome.tsx';
import { PhotoLoupe } from './FlatPreview.tsx';

/** Beside the tool that lays the photo flat: what was measured, how well it agrees, what comes of it. */
export function RectifyCard({ onOpen }: { onOpen(): void }): ReactElement {
  const words = useWords();
  const photo = useEditorState((state) => state.history.plan.photo);
  return (
    <Section title={words.rectify.title}>
      {photo ? (
        <RectifyForm photo={photo} />
      ) : (
        <>
          <p className="quiet-text">{words.rectify.noPhoto}</p>
          <div className="row">
            <button type="button" onClick={onOpen}>
              {words.photo.open}
            </button>
          </div>
        </>
      )}
    </Section>
  );
}

/** The marks of the tool in hand, if they lie on this photo. */
function useMarking(photo: SitePhoto): Marking | null {
  const state = useEditorState(({ tool, toolState }) => (tool === 'rectify' ? (toolState as Marking) : null));
  return state?.pictureId === photo.pictureId ? state : null;
}

/** What is known so far, or null while a length is missing; and lines that only check it. */
function measuredOf(
  kind: Kind,
  marks: Measured['marks'] | null,
  [s12, s23, s34, s41, d13, d24]: Lengths,
): { readonly measured: Measured; readonly lines: readonly PhotoMeasure[] } | null {
  if (!marks || s12 === null || s23 === null) return null;
  if (kind === 'rectangle') {
    const line = (from: number, to: number, lengthM: number | null): PhotoMeasure[] =>
      lengthM === null ? [] : [{ a: marks[from]!, b: marks[to]!, lengthM, role: 'check' }];
    return {
      measured: { marks, sidesM: [s12, s23, s12, s23], diagonalsM: [null, null] },
      lines: [...line(0, 2, d13), ...line(1, 3, d24)],
    };
  }
  if (s34 === null || s41 === null || (d13 === null && d24 === null)) return null;
  return { measured: { marks, sidesM: [s12, s23, s34, s41], diagonalsM: [d13, d24] }, lines: [] };
}

function RectifyForm({ photo }: { readonly photo: SitePhoto }): ReactElement {
  const editor = useEditor();
  const services = useServices();
  const words = useWords();
  const units = useEditorState((state) => state.units);
  const marking = useMarking(photo);
  const [kind, setKind] = useState<Kind>('sides');
  const [lengths, setLengths] = useState<Lengths>(NO_LENGTHS);
  const [share, setShare] = useState<number | null>(null);
  const [refused, setRefused] = useState<Problem | null>(null);
  const stop = useRef<AbortController | null>(null);
  // Whoever puts the tool away does not wait for its work.
  useEffect(() => () => stop.current?.abort(), []);

  const placed = marking?.marks ?? [];
  const [a, b, c, d] = placed;
  const marks = useMemo(
    (): Measured['marks'] | null => (a && b && c && d ? [a, b, c, d] : null),
    [a, b, c, d],
  );
  const known = useMemo(() => measuredOf(kind, marks, lengths), [kind, marks, lengths]);
  const result = useMemo(
    () => (known ? flatteningOf(photo, known.measured, false, known.lines) : marks && examineMarks(marks)),
    [photo, known, marks],
  );
  const flattening = known && result?.ok ? (result.value as Flattening) : null;
  const problem = result && !result.ok ? result.problem : refused;

  const lengthAt = (index: number, lengthM: number | null) => {
    setRefused(null);
    setLengths(lengths.map((value, i) => (i === index ? lengthM : value)) as unknown as Lengths);
  };
  const apply = async () => {
    if (!known) return;
    const control = new AbortController();
    stop.current = control;
    setRefused(null);
    setShare(0);
    const failed = await services.flattening.apply(known.measured, known.lines, setShare, control.signal);
    if (control.signal.aborted) return;
    setShare(null);
    setRefused(failed);
  };
  const cancel = () => {
    if (share === null) {
      editor.chooseTool('select');
      return;
    }
    stop.current?.abort();
    setShare(null);
  };

  const hintAt = (index: number): string => {
    if (!flattening) return '';
    const { flat } = flattening;
    if (lengths[index] === null && index > 3) {
      return words.rectify.byOthers(formatQuantity('length', flat.diagonalsM[index - 4]!, units));
    }
    const pair = PAIRS[index]!;
    const held = flat.lengths.find((one) => {
      const marked = pairOf(one, photo, lengths);
      return marked?.[0] === pair[0] && marked[1] === pair[1];
    });
    if (!held || !flat.worst) return '';
    const percent = formatQuantity('percent', Math.abs(held.residualPercent), units, { digits: 1 });
    return words.rectify.off(percent, held.residualPercent > 0);
  };

  const pointer =
    marking?.held === null || marking?.held === undefined ? marking?.pointer : placed[marking.held];
  return (
    <>
      {marks ? null : (
        <p className="advice" role="status">
          {words.rectify.next(placed.length + 1)} {words.rectify.how}
        </p>
      )}
      {(!marks || marking?.held !== null) && (
        <PhotoLoupe photo={photo} at={pointer ?? placed.at(-1) ?? [photo.widthPx / 2, photo.heightPx / 2]} />
      )}
      <ChoiceField
        label={words.rectify.known}
        value={kind}
        options={(['sides', 'rectangle'] as const).map((value) => ({
          value,
          label: words.rectify.kinds[value],
        }))}
        onChange={(value) => setKind(value as Kind)}
      />
      {PAIRS.map(([from, to], index) =>
        kind === 'rectangle' && (index === 2 || index === 3) ? null : (
          <QuantityField
            key={index}
            label={index < 4 ? words.rectify.side(from, to) : words.rectify.diagonal(from, to)}
            kind="length"
            value={lengths[index]!}
            nullable
            min={0.05}
            max={1000}
            empty={kind === 'rectangle' && index > 3 ? words.rectify.optional : words.site.unmeasured}
            hint={hintAt(index)}
            onChange={(lengthM) => lengthAt(index, lengthM)}
          />
        ),
      )}
      {problem && (
        <p className="advice" data-severity="error" role="alert">
          {problem.what} {problem.todo}
        </p>
      )}
      {!problem && !known && (
        <p className="quiet-text">
          {kind === 'rectangle' ? words.rectify.missingRectangle : words.rectify.missing}
        </p>
      )}
      {flattening && <Agreement photo={photo} flattening={flattening} lengths={lengths} kind={kind} />}
      {share !== null && (
        <label className="flat-progress">
          {words.rectify.working}
          <progress max={1} value={share} />
        </label>
      )}
      <div className="row">
        <button type="button" disabled={!flattening || share !== null} onClick={() => void apply()}>
          {words.rectify.apply}
        </button>
        <button type="button" className="quiet" onClick={cancel}>
          {words.rectify.cancel}
        </button>
      </div>
      {flattening && <FlatFigures photo={photo} flattening={flattening} />}
    </>
  );
}
