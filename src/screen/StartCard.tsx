import type { ReactElement } from 'react';
import { TABLES } from '../plan/records.ts';
import { useEditor, useEditorState, useServices } from './services.ts';
import { useWords } from './words/index.ts';

/** What to do first, while there is nothing on the plan. */
export function StartCard({ onOpen }: { onOpen(): void }): ReactElement | null {
  const editor = useEditor();
  const services = useServices();
  const words = useWords();
  const tool = useEditorState((state) => state.tool);
  const empty = useEditorState(
    ({ history: { plan } }) => !plan.photo && TABLES.every((table) => plan[table].size === 0),
  );
  if (!empty || tool !== 'select') return null;
  return (
    <section className="start" aria-label={words.start.title}>
      <h2>{words.start.title}</h2>
      <p>{words.start.text}</p>
      <button type="button" className="primary" onClick={onOpen}>
        {words.start.photo}
      </button>
      <button
        type="button"
        onClick={() => {
          editor.show('survey');
          editor.chooseTool('area', { areaUse: 'bed' });
        }}
      >
        {words.start.blank}
      </button>
      <button type="button" onClick={onOpen}>
        {words.start.file}
      </button>
      <button type="button" onClick={() => services.openDemo()}>
        {words.start.demo}
      </button>
      <p className="field-note">{words.start.drop}</p>
    </section>
  );
}
