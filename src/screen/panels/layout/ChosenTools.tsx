import type { ReactElement } from 'react';
import { allAlike, allInBed, bedOf, mayEditIn, mayTouch } from '../../../editor/index.ts';
import { useEditor, useEditorState } from '../../services.ts';
import { useWords } from '../../words/index.ts';

/** More of the same, and copies of what is chosen. */
export function ChosenTools(): ReactElement {
  const editor = useEditor();
  const words = useWords().hand.chosen;
  const selection = useEditorState((state) => state.selection);
  const plan = useEditorState((state) => state.history.plan);
  const layers = useEditorState((state) => state.layers);
  const edits = useEditorState((state) => mayEditIn(state.view));
  const clip = useEditorState((state) => state.clip);
  const bed = bedOf(plan, selection);
  const beds = [...plan.areas].filter(({ id, use }) => use === 'bed' && id !== bed?.id);
  return (
    <>
      <div className="row">
        <button
          type="button"
          onClick={() => editor.select(allAlike(plan, selection).filter((ref) => mayTouch(layers, ref)))}
        >
          {words.alike}
        </button>
        {bed && (
          <button
            type="button"
            onClick={() => {
              const found = allInBed(plan, bed).filter((ref) => mayTouch(layers, ref));
              if (found.length) editor.select(found);
            }}
          >
            {words.inBed}
          </button>
        )}
        <button type="button" onClick={() => editor.copySelection()}>
          {words.copy}
        </button>
        {clip && edits && (
          <button type="button" title={words.pasteHint} onClick={() => editor.paste()}>
            {words.paste}
          </button>
        )}
      </div>
      {edits && beds.length > 0 && (
        <div className="row">
          <select
            aria-label={words.toBedLabel}
            value=""
            onChange={(event) => event.currentTarget.value && editor.copyToBed(event.currentTarget.value)}
          >
            <option value="">{words.toBed}</option>
            {beds.map(({ id, name }) => (
              <option key={id} value={id}>
                {name.trim() || `${words.bed} ${id}`}
              </option>
            ))}
          </select>
        </div>
      )}
    </>
  );
}
