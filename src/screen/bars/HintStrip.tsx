import type { ReactElement } from 'react';
import { useEditorState } from '../services.ts';
import { useWords } from '../words/index.ts';

/** One line at the foot: what the tool in hand wants, or why nothing happened. */
export function HintStrip(): ReactElement {
  const words = useWords();
  const tool = useEditorState((state) => state.tool);
  const areaUse = useEditorState((state) => state.choices.areaUse);
  const saying = useEditorState((state) => state.saying);
  const entry = words.tools[tool === 'area' ? areaUse : tool];
  return (
    <footer className="hint" data-tone={saying?.tone ?? 'none'}>
      <strong>{entry.name}</strong>
      <span role="status" key={saying?.number ?? 'hint'}>
        {saying?.text ?? entry.hint}
      </span>
    </footer>
  );
}
