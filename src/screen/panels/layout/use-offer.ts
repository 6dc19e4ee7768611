import { useEffect, useRef } from 'react';
import type { Edit } from '../../../plan/edits/index.ts';
import { useEditor } from '../../services.ts';

/**
 * Shows an edit on the plan as a proposal for as long as the card is there; `draw` keeps it. Dropping it lets go of
 * what is chosen, which the card was about.
 */
export function useOffer(edit: Edit | null, label: string, draw: () => void): void {
  const editor = useEditor();
  const latest = useRef(draw);
  useEffect(() => {
    latest.current = draw;
  });
  useEffect(() => {
    editor.preview(edit, { label, draw: () => latest.current(), drop: () => editor.select([]) });
    return () => editor.preview(null);
  }, [editor, edit, label]);
}
