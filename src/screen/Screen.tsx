import { useEffect, useRef, useState, type ReactElement } from 'react';
import { HintStrip } from './bars/HintStrip.tsx';
import { ToolRail } from './bars/ToolRail.tsx';
import { TopBar } from './bars/TopBar.tsx';
import { PlanCanvas } from './canvas/PlanCanvas.tsx';
import { handleKeyAnywhere } from './canvas/keys.ts';
import { ImportDialog } from './dialogs/ImportDialog.tsx';
import { KeysDialog } from './dialogs/KeysDialog.tsx';
import { PrintDialog } from './dialogs/PrintDialog.tsx';
import { ReportDialog } from './dialogs/ReportDialog.tsx';
import { Panel } from './panels/Panel.tsx';
import { ShopContext, type Shop } from './services.ts';
import { StartCard } from './StartCard.tsx';

const typing = (target: EventTarget | null) =>
  target instanceof HTMLElement &&
  target.matches('input:not([type=range], [type=checkbox]), textarea, select');

/** Cells copied from a spreadsheet, as a file; spreadsheets put a picture of them beside, which is not wanted. */
function cellsPasted(event: ClipboardEvent): File | null {
  const text = event.clipboardData?.getData('text/plain') ?? '';
  if (typing(event.target) || !text.includes('\t')) return null;
  return new File([text], 'pasted cells.tsv', { type: 'text/tab-separated-values' });
}

/** Whether copying and pasting mean things of the plan: not while text is typed or marked, or a dialog is open. */
const mayCopy = (event: ClipboardEvent) =>
  !typing(event.target) && !document.querySelector('dialog[open]') && !String(document.getSelection() ?? '');

/** The whole screen. `ready` marks that the plan of the last visit (or the demo) is open. */
export function Screen({ shop, ready }: { readonly shop: Shop; readonly ready: boolean }): ReactElement {
  const { editor, services } = shop;
  const [panelOpen, setPanelOpen] = useState(true);
  const [dialog, setDialog] = useState<'print' | 'keys' | null>(null);
  const [dropping, setDropping] = useState(false);
  const chooser = useRef<HTMLInputElement>(null);
  const open = () => chooser.current?.click();

  useEffect(() => {
    const key = (event: KeyboardEvent) => {
      const command = event.ctrlKey || event.metaKey;
      const pressed = event.key.toLowerCase();
      if (!command) {
        // Tool keys work wherever nothing is being typed; the canvas handles its own.
        const inCanvas = document.activeElement?.classList.contains('canvas-stage');
        if (inCanvas || typing(event.target) || event.altKey || document.querySelector('dialog[open]'))
          return;
        if (handleKeyAnywhere(editor, event)) event.preventDefault();
        return;
      }
      const commands: Readonly<Record<string, () => void>> = {
        z: () => (event.shiftKey ? editor.redo() : editor.undo()),
        y: () => editor.redo(),
        s: () => void services.savePlan(),
        o: open,
        p: () => setDialog('print'),
        d: () => editor.duplicateSelection(0.5),
        a: () => editor.selectAll(),
      };
      const act = commands[pressed];
      const field = typing(event.target) ? (event.target as HTMLElement) : null;
      // Where nothing is being typed, undo means the plan in a field too.
      const settled = field?.dataset['settled'] === 'true' || (field?.matches('select') ?? false);
      const inField = settled ? ['s', 'o', 'p', 'z', 'y'] : ['s', 'o', 'p'];
      if (!act || (field && !inField.includes(pressed))) return;
      event.preventDefault();
      // Behind an open dialog nothing changes.
      if (document.querySelector('dialog[open]')) return;
      // What is being typed takes effect first, so that it is saved or printed too.
      field?.blur();
      field?.focus();
      act();
    };
    const paste = (event: ClipboardEvent) => {
      const cells = cellsPasted(event);
      const file = cells ?? [...(event.clipboardData?.files ?? [])][0];
      if (file) {
        event.preventDefault();
        void services.take(file);
      } else if (mayCopy(event) && editor.store.getState().clip) {
        event.preventDefault();
        editor.paste();
      }
    };
    const copy = (event: ClipboardEvent) => {
      if (!mayCopy(event) || !editor.copySelection()) return;
      // A picture or table that was copied before is not what is pasted next.
      event.clipboardData?.setData('text/plain', editor.store.getState().saying?.text ?? '');
      event.preventDefault();
    };
    window.addEventListener('keydown', key);
    window.addEventListener('paste', paste);
    window.addEventListener('copy', copy);
    return () => {
      window.removeEventListener('keydown', key);
      window.removeEventListener('paste', paste);
      window.removeEventListener('copy', copy);
    };
  }, [editor, services]);

  return (
    <ShopContext value={shop}>
      <div
        className="screen"
        data-ready={ready}
        data-panel={panelOpen}
        onDragOver={(event) => {
          event.preventDefault();
          setDropping(true);
        }}
        onDragLeave={(event) => {
          if (!event.currentTarget.contains(event.relatedTarget as Node | null)) setDropping(false);
        }}
        onDrop={(event) => {
          event.preventDefault();
          setDropping(false);
          const file = event.dataTransfer.files[0];
          if (file) void services.take(file);
        }}
      >
        <TopBar
          panelOpen={panelOpen}
          onPanel={() => setPanelOpen(!panelOpen)}
          onPrint={() => setDialog('print')}
          onKeys={() => setDialog('keys')}
          onOpen={open}
        />
        <ToolRail />
        <main className="work">
          <PlanCanvas />
          {ready && <StartCard onOpen={open} />}
          {dropping && <div className="dropping" aria-hidden="true" />}
        </main>
        {panelOpen && <Panel onOpen={open} onPrint={() => setDialog('print')} />}
        <HintStrip />
        <input
          ref={chooser}
          type="file"
          hidden
          data-testid="file-chooser"
          accept=".json,application/json,image/jpeg,image/png,image/webp,.csv,.tsv,text/csv"
          onChange={(event) => {
            const file = event.currentTarget.files?.[0];
            event.currentTarget.value = '';
            if (file) void services.take(file);
          }}
        />
        {dialog === 'print' && <PrintDialog onClose={() => setDialog(null)} />}
        <ImportDialog />
        <ReportDialog />
        {dialog === 'keys' && <KeysDialog onClose={() => setDialog(null)} />}
      </div>
    </ShopContext>
  );
}
