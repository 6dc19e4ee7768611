import { useId, type ReactElement } from 'react';
import { LOCKABLE, PLAN_LAYERS, type PlanLayer } from '../../editor/index.ts';
import { useEditor, useEditorState } from '../services.ts';
import { useWords } from '../words/index.ts';

const toggled = (list: readonly PlanLayer[], layer: PlanLayer): readonly PlanLayer[] =>
  list.includes(layer) ? list.filter((one) => one !== layer) : [...list, layer];

/** Hides and locks parts of the plan: a matter of the view, neither saved nor undone. */
export function LayersMenu(): ReactElement {
  const editor = useEditor();
  const words = useWords().layers;
  const layers = useEditorState((state) => state.layers);
  const id = useId();
  const { hidden, locked } = layers;
  const said = words.some(hidden.length, locked.length);
  return (
    <>
      <button type="button" className="layers-button" popoverTarget={id} title={words.hint}>
        {words.button}
        {said && <span className="layers-said"> ({said})</span>}
      </button>
      <div id={id} popover="auto" className="layers" data-testid="layers">
        <table>
          <thead>
            <tr>
              <th scope="col" className="sr-only">
                {words.button}
              </th>
              <th scope="col">{words.shown}</th>
              <th scope="col">{words.locked}</th>
            </tr>
          </thead>
          <tbody>
            {PLAN_LAYERS.map((layer) => (
              <tr key={layer}>
                <th scope="row">
                  <label htmlFor={`${id}-${layer}`}>{words.names[layer]}</label>
                </th>
                <td>
                  <label>
                    <input
                      id={`${id}-${layer}`}
                      type="checkbox"
                      aria-label={`${words.shown}: ${words.names[layer]}`}
                      checked={!hidden.includes(layer)}
                      onChange={() => editor.setLayers({ ...layers, hidden: toggled(hidden, layer) })}
                    />
                  </label>
                </td>
                <td>
                  {LOCKABLE.includes(layer) && (
                    <label>
                      <input
                        type="checkbox"
                        aria-label={`${words.locked}: ${words.names[layer]}`}
                        checked={locked.includes(layer)}
                        onChange={() => editor.setLayers({ ...layers, locked: toggled(locked, layer) })}
                      />
                    </label>
                  )}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
        <button type="button" disabled={!said} onClick={() => editor.setLayers({ hidden: [], locked: [] })}>
          {words.all}
        </button>
      </div>
    </>
  );
}
