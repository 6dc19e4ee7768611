import { useState, type ReactElement } from 'react';
import { formatQuantity, parseQuantity } from '../../base/quantity.ts';
import { useEditor, useEditorState } from '../services.ts';
import { useWords } from '../words/index.ts';
import { holdAt, pressAt } from './crosshair.ts';

/** Where the keys hold the pen, from the plan's zero; a place may be typed. */
export function CrosshairFields(): ReactElement | null {
  const editor = useEditor();
  const words = useWords().hand.cross;
  const units = useEditorState((state) => state.units);
  const at = useEditorState((state) =>
    state.tool === 'select' || state.tool === 'pan' ? null : state.crosshair,
  );
  const [east, setEast] = useState('');
  const [north, setNorth] = useState('');
  const [problem, setProblem] = useState<string | null>(null);
  if (!at) return null;
  const toCanvas = () => document.querySelector<HTMLElement>('.canvas-stage')?.focus({ preventScroll: true });
  const place = () => {
    const values = ([east, north] as const).map((text, i) =>
      text.trim() === '' ? ({ ok: true, value: at[i]! } as const) : parseQuantity('length', text, units),
    );
    const wrong = values.find((value) => !value.ok);
    if (wrong && !wrong.ok) {
      setProblem(`${wrong.problem.what}. ${wrong.problem.todo}`);
      return;
    }
    const [x, y] = values.map((value) => (value.ok ? value.value : 0)) as [number, number];
    setEast('');
    setNorth('');
    setProblem(null);
    holdAt(editor, [x, y]);
    pressAt(editor, [x, y]);
    toCanvas();
  };
  const onKeyDown = (event: React.KeyboardEvent) => {
    if (event.key === 'Enter') {
      event.preventDefault();
      place();
    }
    if (event.key === 'Escape') toCanvas();
  };
  const fields = [
    { label: words.x, text: east, set: setEast, now: at[0] },
    { label: words.y, text: north, set: setNorth, now: at[1] },
  ];
  return (
    <div className="piece at-place" role="group" aria-label={words.title}>
      {fields.map(({ label, text, set, now }) => (
        <label key={label}>
          {label}
          <input
            value={text}
            placeholder={formatQuantity('length', now, units)}
            autoComplete="off"
            onChange={(event) => set(event.currentTarget.value)}
            onKeyDown={onKeyDown}
          />
        </label>
      ))}
      <button type="button" onClick={place}>
        {words.set}
      </button>
      {problem && (
        <p className="piece-problem" role="alert">
          {problem}
        </p>
      )}
    </div>
  );
}
