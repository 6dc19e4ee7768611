import { useId, useRef, type ReactElement } from 'react';
import { VIEWS } from '../../editor/index.ts';
import { useEditor, useEditorState, useSaveState, useServices } from '../services.ts';
import { useWords } from '../words/index.ts';
import { Icon } from './icons.tsx';

interface Props {
  readonly panelOpen: boolean;
  onPanel(): void;
  onPrint(): void;
  onKeys(): void;
  onOpen(): void;
}

/** Name, views, history, units and file commands. */
export function TopBar({ panelOpen, onPanel, onPrint, onKeys, onOpen }: Props): ReactElement {
  const editor = useEditor();
  const services = useServices();
  const words = useWords();
  const view = useEditorState((state) => state.view);
  const units = useEditorState((state) => state.units);
  const name = useEditorState((state) => state.history.plan.site.name);
  const undo = useEditorState((state) => state.history.past.at(-1)?.label);
  const redo = useEditorState((state) => state.history.future.at(-1)?.label);
  const save = useSaveState();
  const menuId = useId();
  const menu = useRef<HTMLDivElement>(null);
  const run = (action: () => void) => () => {
    menu.current?.hidePopover();
    action();
  };
  const saveWord = { idle: '', saved: words.bar.saved, saving: words.bar.saving, failed: words.bar.notSaved }[
    save.kind
  ];

  return (
    <header className="bar">
      <div className="bar-name">
        <span className="wordmark">{words.product}</span>
        <span className="plan-name" title={name || words.bar.unnamed}>
          {name || words.bar.unnamed}
        </span>
        <span
          className="save-state"
          data-kind={save.kind}
          title={save.kind === 'failed' ? save.why : undefined}
        >
          {saveWord}
        </span>
      </div>
      <nav className="views" aria-label="Views">
        {VIEWS.map((id) => (
          <button
            key={id}
            type="button"
            aria-current={id === view ? 'page' : undefined}
            onClick={() => editor.show(id)}
          >
            {words.views[id]}
          </button>
        ))}
      </nav>
      <div className="bar-commands">
        <button
          type="button"
          className="quiet"
          disabled={!undo}
          onClick={() => editor.undo()}
          aria-label={words.bar.undo}
          title={undo ? `${words.bar.undo}: ${undo} (Ctrl+Z)` : words.bar.noUndo}
        >
          <Icon name="undo" />
        </button>
        <button
          type="button"
          className="quiet"
          disabled={!redo}
          onClick={() => editor.redo()}
          aria-label={words.bar.redo}
          title={redo ? `${words.bar.redo}: ${redo} (Ctrl+Shift+Z)` : words.bar.noRedo}
        >
          <Icon name="redo" />
        </button>
        <div className="switch" role="group" aria-label="Units" title={words.bar.unitsHint}>
          {(['us', 'metric'] as const).map((system) => (
            <button
              key={system}
              type="button"
              aria-pressed={units === system}
              onClick={() => editor.setUnits(system)}
            >
              {words.bar.units[system]}
            </button>
          ))}
        </div>
        <button type="button" popoverTarget={menuId} aria-haspopup="menu" className="file-button">
          {words.bar.file}
        </button>
        <div ref={menu} id={menuId} popover="auto" className="menu" role="menu">
          <button role="menuitem" type="button" onClick={run(onOpen)}>
            {words.bar.open}
          </button>
          <button role="menuitem" type="button" onClick={run(() => void services.savePlan())}>
            {words.bar.save}
          </button>
          <button role="menuitem" type="button" onClick={run(onPrint)}>
            {words.bar.print}
          </button>
          <hr />
          <button role="menuitem" type="button" onClick={run(() => services.newPlan())}>
            {words.bar.newPlan}
          </button>
          <button role="menuitem" type="button" onClick={run(() => services.openDemo())}>
            {words.bar.demo}
          </button>
          <hr />
          <button role="menuitem" type="button" onClick={run(onKeys)}>
            {words.bar.keys}
          </button>
        </div>
        <button
          type="button"
          className="quiet"
          onClick={onPrint}
          aria-label={words.bar.print}
          title={`${words.bar.print} (Ctrl+P)`}
        >
          <Icon name="print" />
        </button>
        <button
          type="button"
          className="quiet"
          aria-pressed={panelOpen}
          onClick={onPanel}
          aria-label={words.bar.panel}
          title={words.bar.panel}
        >
          <Icon name="panel" />
        </button>
      </div>
    </header>
  );
}
