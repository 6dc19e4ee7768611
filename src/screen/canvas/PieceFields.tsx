import { useEffect, useRef, useState, type ReactElement } from 'react';
import { directionDeg, distance } from '../../base/point.ts';
import { formatQuantity, parseQuantity } from '../../base/quantity.ts';
import { useEditor, useEditorState } from '../services.ts';
import { useWords } from '../words/index.ts';

/** Length and direction of the piece being drawn; what is left empty follows the pointer. */
export function PieceFields(): ReactElement | null {
  const editor = useEditor();
  const words = useWords();
  const piece = useEditorState((state) => state.draft.piece);
  const units = useEditorState((state) => state.units);
  const tool = useEditorState((state) => state.tool);
  const asking = useEditorState((state) => (state.toolState as { name: string }).name === 'asking');
  const [length, setLength] = useState('');
  const [direction, setDirection] = useState('');
  const [problem, setProblem] = useState<string | null>(null);
  const lengthInput = useRef<HTMLInputElement>(null);
  const waiting = piece !== null;

  useEffect(() => {
    if (asking) lengthInput.current?.focus();
  }, [asking]);
  useEffect(() => {
    if (!waiting) {
      setLength('');
      setDirection('');
      setProblem(null);
    }
  }, [waiting]);
  if (!piece) return null;

  const toCanvas = () => document.querySelector<HTMLElement>('.canvas-stage')?.focus({ preventScroll: true });
  const tracing = ['area', 'lateral', 'inline', 'blank', 'row', 'tape'].includes(tool);
  const hand = (kind: 'enter' | 'back' | 'escape') => {
    editor.input({ kind });
    toCanvas();
  };
  const place = () => {
    const read = (kind: 'length' | 'angle', text: string) =>
      text.trim() === '' ? ({ ok: true, value: null } as const) : parseQuantity(kind, text, units);
    const lengthRead = read('length', length);
    const directionRead = read('angle', direction);
    for (const result of [lengthRead, directionRead]) {
      if (!result.ok) {
        setProblem(`${result.problem.what}. ${result.problem.todo}`);
        return;
      }
    }
    if (!lengthRead.ok || !directionRead.ok) return;
    if (lengthRead.value !== null && lengthRead.value <= 0) {
      setProblem('A length must be more than zero.');
      return;
    }
    const nothing = lengthRead.value === null && directionRead.value === null;
    if (nothing && !asking) editor.input({ kind: 'enter' });
    else editor.input({ kind: 'typed', lengthM: lengthRead.value, directionDeg: directionRead.value });
    setLength('');
    setDirection('');
    setProblem(null);
    toCanvas();
  };
  const onKeyDown = (event: React.KeyboardEvent) => {
    if (event.key === 'Enter') {
      event.preventDefault();
      place();
    }
    if (event.key === 'Escape') {
      if (!length && !direction) editor.input({ kind: 'escape' });
      setLength('');
      setDirection('');
      setProblem(null);
      toCanvas();
    }
  };
  return (
    <div className="piece" data-asking={asking}>
      <label>
        {words.canvas.length}
        <input
          ref={lengthInput}
          data-piece="length"
          value={length}
          placeholder={
            asking ? '' : formatQuantity('length', piece.lengthM ?? distance(piece.from, piece.to), units)
          }
          autoComplete="off"
          onChange={(event) => setLength(event.currentTarget.value)}
          onKeyDown={onKeyDown}
        />
      </label>
      {tool !== 'measure' && (
        <label title={words.canvas.directionHint}>
          {words.canvas.direction}
          <input
            data-piece="direction"
            value={direction}
            placeholder={formatQuantity('angle', (directionDeg(piece.from, piece.to) + 360) % 360, units)}
            autoComplete="off"
            onChange={(event) => setDirection(event.currentTarget.value)}
            onKeyDown={onKeyDown}
          />
        </label>
      )}
      <button type="button" onClick={place}>
        {words.canvas.place}
      </button>
      {tracing && (
        <>
          <button type="button" onClick={() => hand('enter')}>
            {words.canvas.finish}
          </button>
          <button type="button" className="quiet" onClick={() => hand('back')}>
            {words.canvas.back}
          </button>
        </>
      )}
      <button type="button" className="quiet" onClick={() => hand('escape')}>
        {words.canvas.drop}
      </button>
      {problem && (
        <p className="piece-problem" role="alert">
          {problem}
        </p>
      )}
    </div>
  );
}
