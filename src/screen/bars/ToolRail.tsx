import type { ReactElement } from 'react';
import { VIEW_TOOLS, type ToolName } from '../../editor/index.ts';
import type { AreaUse } from '../../plan/records.ts';
import { useEditor, useEditorState } from '../services.ts';
import { useWords } from '../words/index.ts';
import { Icon, type IconName } from './icons.tsx';

interface Button {
  readonly id: IconName & keyof ReturnType<typeof useWords>['tools'];
  readonly tool: ToolName;
  readonly areaUse?: AreaUse;
}

const BUTTONS: readonly Button[] = [
  { id: 'select', tool: 'select' },
  { id: 'lasso', tool: 'lasso' },
  { id: 'pan', tool: 'pan' },
  { id: 'rectify', tool: 'rectify' },
  { id: 'measure', tool: 'measure' },
  { id: 'bed', tool: 'area', areaUse: 'bed' },
  { id: 'paving', tool: 'area', areaUse: 'paving' },
  { id: 'lawn', tool: 'area', areaUse: 'lawn' },
  { id: 'building', tool: 'area', areaUse: 'building' },
  { id: 'level', tool: 'level' },
  { id: 'fall', tool: 'fall' },
  { id: 'section', tool: 'section' },
  { id: 'plant', tool: 'plant' },
  { id: 'row', tool: 'row' },
  { id: 'grid', tool: 'grid' },
  { id: 'brush', tool: 'brush' },
  { id: 'supply', tool: 'supply' },
  { id: 'head', tool: 'head' },
  { id: 'lateral', tool: 'lateral' },
  { id: 'control', tool: 'control' },
  { id: 'inline', tool: 'inline' },
  { id: 'blank', tool: 'blank' },
  { id: 'emitter', tool: 'emitter' },
  { id: 'check', tool: 'check' },
  { id: 'flush', tool: 'flush' },
  { id: 'relief', tool: 'relief' },
  { id: 'drain', tool: 'drain' },
  { id: 'tape', tool: 'tape' },
];

/** The tools of the present view, and the one in hand if it belongs to another view. */
export function ToolRail(): ReactElement {
  const editor = useEditor();
  const words = useWords();
  const view = useEditorState((state) => state.view);
  const tool = useEditorState((state) => state.tool);
  const areaUse = useEditorState((state) => state.choices.areaUse);
  const inHand = (button: Button) => button.tool === tool && (!button.areaUse || button.areaUse === areaUse);
  return (
    <nav className="rail" aria-label="Tools">
      {BUTTONS.filter((button) => VIEW_TOOLS[view].includes(button.tool) || inHand(button)).map((button) => {
        const { name, key, hint } = words.tools[button.id];
        return (
          <button
            key={button.id}
            type="button"
            className="tool"
            aria-pressed={inHand(button)}
            aria-keyshortcuts={key}
            title={`${name} (${key}). ${hint}`}
            onClick={() => {
              editor.chooseTool(button.tool, button.areaUse ? { areaUse: button.areaUse } : undefined);
              document.querySelector<HTMLElement>('.canvas-stage')?.focus({ preventScroll: true });
            }}
          >
            <Icon name={button.id} />
            <span>{name}</span>
          </button>
        );
      })}
    </nav>
  );
}
