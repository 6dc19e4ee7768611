import { useState, type ReactElement } from 'react';
import { changePart } from '../../plan/edits/index.ts';
import { TimeField } from '../fields/TimeField.tsx';
import { useEditor, useEditorState } from '../services.ts';
import { useWords } from '../words/index.ts';

type Times = { readonly fromMin: number | null; readonly toMin: number | null };

/** The hours in which watering is allowed. The plan has both times or none; one alone waits here for the other. */
export function NightWindow(): ReactElement {
  const editor = useEditor();
  const words = useWords().checksFacts.night;
  const kept = useEditorState((state) => state.history.plan.controller.nightWindow);
  const [half, setHalf] = useState<Times | null>(null);
  const shown: Times = kept ?? half ?? { fromMin: null, toMin: null };
  const set = (times: Partial<Times>) => {
    const { fromMin, toMin } = { ...shown, ...times };
    const isWhole = fromMin !== null && toMin !== null;
    setHalf(isWhole || (fromMin === null && toMin === null) ? null : { fromMin, toMin });
    if (isWhole || kept) {
      const nightWindow = isWhole ? { fromMin, toMin } : null;
      editor.commit(changePart('Change night hours', 'controller', { nightWindow }));
    }
  };
  const isHalf = kept === null && half !== null;
  return (
    <>
      <TimeField
        label={words.from}
        value={shown.fromMin}
        empty={words.none}
        onChange={(fromMin) => set({ fromMin })}
      />
      <TimeField
        label={words.to}
        value={shown.toMin}
        empty={words.none}
        onChange={(toMin) => set({ toMin })}
      />
      <p className={isHalf ? 'advice' : 'field-note'} role={isHalf ? 'status' : undefined}>
        {isHalf ? words.needBoth : `${words.hint} ${words.source}`}
      </p>
    </>
  );
}
