import { useSyncExternalStore } from 'react';

/** Whether the person last worked with a finger; before any press, what the device mainly has. */
let touch = typeof matchMedia === 'function' && matchMedia('(pointer: coarse)').matches;
const listeners = new Set<() => void>();

if (typeof window !== 'undefined') {
  window.addEventListener(
    'pointerdown',
    ({ pointerType }) => {
      const next = pointerType === 'touch';
      if (next === touch) return;
      touch = next;
      listeners.forEach((tell) => tell());
    },
    true,
  );
}

export const byTouch = (): boolean => touch;

/** The same for words that change with it. */
export function useTouch(): boolean {
  return useSyncExternalStore((tell) => {
    listeners.add(tell);
    return () => listeners.delete(tell);
  }, byTouch);
}
