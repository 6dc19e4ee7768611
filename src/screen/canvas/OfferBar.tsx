import type { ReactElement } from 'react';
import { useEditorState } from '../services.ts';
import { useWords } from '../words/index.ts';

/** What is shown but not drawn yet, said on the plan itself, with the two ways on from there. */
export function OfferBar(): ReactElement | null {
  const words = useWords().offer;
  const offer = useEditorState((state) => state.offer);
  if (!offer) return null;
  const then = (act: () => void) => () => {
    act();
    // The bar goes; keys mean the plan again.
    document.querySelector<HTMLElement>('.canvas-stage')?.focus({ preventScroll: true });
  };
  return (
    <div className="offer" role="region" aria-label={words.title} data-testid="offer">
      <p>{words.title}</p>
      <button type="button" className="primary" data-testid="offer-draw" onClick={then(() => offer.draw())}>
        {offer.label}
      </button>
      <button
        type="button"
        data-testid="offer-drop"
        title={words.dropHint}
        onClick={then(() => offer.drop())}
      >
        {words.drop}
      </button>
    </div>
  );
}
