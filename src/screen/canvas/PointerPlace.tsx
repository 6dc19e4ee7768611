import { useEffect, useRef, type ReactElement, type RefObject } from 'react';
import { formatQuantity } from '../../base/quantity.ts';
import { toGround } from '../../editor/index.ts';
import { useEditor } from '../services.ts';

/** Where the pointer is on the plan, from its zero: east and north. Written past React, as it changes with every move. */
export function PointerPlace({ over }: { readonly over: RefObject<HTMLElement | null> }): ReactElement {
  const editor = useEditor();
  const output = useRef<HTMLOutputElement>(null);
  useEffect(() => {
    const element = over.current!;
    const show = (event: PointerEvent) => {
      if (event.pointerType !== 'mouse' || !output.current) return;
      const { camera, units } = editor.store.getState();
      const box = element.getBoundingClientRect();
      const [x, y] = toGround(camera, [event.clientX - box.left, event.clientY - box.top]);
      const figure = (metres: number) => formatQuantity('length', metres, units);
      output.current.textContent = `x ${figure(x)}  y ${figure(y)}`;
    };
    const hide = () => {
      if (output.current) output.current.textContent = '';
    };
    element.addEventListener('pointermove', show);
    element.addEventListener('pointerleave', hide);
    return () => {
      element.removeEventListener('pointermove', show);
      element.removeEventListener('pointerleave', hide);
    };
  }, [editor, over]);
  return <output ref={output} className="pointer-place" aria-hidden="true" />;
}
