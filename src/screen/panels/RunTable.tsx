import type { ReactElement } from 'react';
import { formatQuantity } from '../../base/quantity.ts';
import type { Results } from '../../derive/results.ts';
import { useEditor, useEditorState } from '../services.ts';
import { useWords } from '../words/index.ts';

/** Runs with their figures; choosing one selects it and lists its outlets. */
export function RunTable({ results }: { readonly results: Results }): ReactElement {
  const editor = useEditor();
  const words = useWords();
  const units = useEditorState((state) => state.units);
  const runs = useEditorState((state) => state.history.plan.runs);
  const chosen = useEditorState((state) => state.selection.find((ref) => ref.table === 'runs')?.id);
  return (
    <table className="schedule">
      <thead>
        <tr>
          <th scope="col">{words.results.run}</th>
          <th scope="col">{words.canvas.length}</th>
          <th scope="col">{words.results.outlets}</th>
          <th scope="col">{words.select.inlet}</th>
          <th scope="col">{words.select.worst}</th>
        </tr>
      </thead>
      <tbody>
        {[...runs].map((run) => {
          const result = results.runs.get(run.id);
          return (
            <tr key={run.id} aria-selected={run.id === chosen}>
              <th scope="row">
                <button
                  type="button"
                  className="link"
                  onClick={() => editor.select([{ table: 'runs', id: run.id }])}
                >
                  {run.name || run.id}
                </button>
              </th>
              <td>{result ? formatQuantity('length', result.lengthM, units) : '–'}</td>
              <td>{result?.outletCount ?? '–'}</td>
              <td>{result ? formatQuantity('pressure', result.inletKpa, units) : '–'}</td>
              <td>{result ? formatQuantity('pressure', result.worstKpa, units) : '–'}</td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}
