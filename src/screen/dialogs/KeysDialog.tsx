import type { ReactElement } from 'react';
import { useWords } from '../words/index.ts';
import { Dialog } from './Dialog.tsx';

/** Keys and gestures, the tools' keys included. */
export function KeysDialog({ onClose }: { onClose(): void }): ReactElement {
  const words = useWords();
  return (
    <Dialog title={words.keys.title} onClose={onClose}>
      <div className="keys">
        <dl>
          {words.keys.rows.map(([keys, what]) => (
            <div key={keys}>
              <dt>{keys}</dt>
              <dd>{what}</dd>
            </div>
          ))}
        </dl>
        <dl>
          {Object.values(words.tools).map(({ name, key }) => (
            <div key={key}>
              <dt>{key}</dt>
              <dd>{name}</dd>
            </div>
          ))}
        </dl>
      </div>
      <form method="dialog" className="row">
        <button type="submit">{words.keys.close}</button>
      </form>
    </Dialog>
  );
}
