import type { ReactElement } from 'react';
import { VIEW_TOOLS } from '../../editor/index.ts';
import { useEditorState } from '../services.ts';
import { useWords } from '../words/index.ts';
import { useTouch } from '../canvas/touch.ts';

/** One line at the foot: what the tool in hand wants, or why nothing happened. */
export function HintStrip(): ReactElement {
  const words = useWords();
  const tool = useEditorState((state) => state.tool);
  const areaUse = useEditorState((state) => state.choices.areaUse);
  const hasLasso = useEditorState((state) => VIEW_TOOLS[state.view].includes('lasso'));
  const saying = useEditorState((state) => state.saying);
  const name = tool === 'area' ? areaUse : tool;
  const entry = words.tools[name];
  // Where there are no keys, no keys are spoken of.
  const byHand = name === 'select' && !hasLasso ? words.hand.touchSelectOnly : words.hand.touch[name];
  const hint = (useTouch() && byHand) || entry.hint;
  return (
    <footer className="hint" data-tone={saying?.tone ?? 'none'}>
      <strong>{entry.name}</strong>
      <span role="status" key={saying?.number ?? 'hint'}>
        {saying?.text ?? hint}
      </span>
    </footer>
  );
}
