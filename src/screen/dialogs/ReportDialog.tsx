import type { ReactElement } from 'react';
import { useEditor, useEditorState } from '../services.ts';
import { useWords } from '../words/index.ts';
import { Dialog } from './Dialog.tsx';

/** More than this is counted, not listed. */
const MOST = 200;

/** What went wrong or was left out: what, where, and what to do. */
export function ReportDialog(): ReactElement | null {
  const editor = useEditor();
  const words = useWords();
  const report = useEditorState((state) => state.report);
  if (!report) return null;
  const more = report.problems.length - MOST;
  return (
    <Dialog title={report.title} onClose={() => editor.report(null)}>
      <ul className="report">
        {report.problems.slice(0, MOST).map((problem, i) => (
          <li key={i}>
            <p>
              <code>{problem.where}</code> {problem.what}
            </p>
            <p className="quiet-text">{problem.todo}</p>
          </li>
        ))}
      </ul>
      {more > 0 && <p className="quiet-text">+ {more}</p>}
      <form method="dialog" className="row">
        <button type="submit" className="primary">
          {words.keys.close}
        </button>
      </form>
    </Dialog>
  );
}
