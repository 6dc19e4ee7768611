import { useEffect, type RefObject } from 'react';

const SECTION = 'section';

/**
 * Keeps the focus in the panel when the field or button that had it goes, e.g. with the card that it stood in: it
 * goes to the heading of that part, or of the part that is now in its place.
 */
export function useFocusKept(panel: RefObject<HTMLElement | null>): void {
  useEffect(() => {
    const element = panel.current;
    if (!element) return;
    let held: HTMLElement | null = null;
    let section: HTMLElement | null = null;
    let place = 0;
    const take = (event: FocusEvent) => {
      held = event.target as HTMLElement;
      section = held.closest<HTMLElement>(SECTION);
      place = section ? [...element.querySelectorAll<HTMLElement>(SECTION)].indexOf(section) : 0;
    };
    const leave = (event: FocusEvent) => {
      if (event.relatedTarget) {
        held = null;
        return;
      }
      // Some browsers tell of this when the element is taken away, too; then it is still ours to mend.
      const left = held;
      queueMicrotask(() => {
        if (left === held && left?.isConnected) held = null;
      });
    };
    const mend = () => {
      if (!held || held.isConnected) return;
      held = null;
      if (document.activeElement && document.activeElement !== document.body) return;
      const all = [...element.querySelectorAll<HTMLElement>(SECTION)];
      const stays = section?.isConnected ? section : null;
      const heading = (stays ?? all[place] ?? all[0])?.querySelector<HTMLElement>('h2');
      if (!heading) return;
      heading.tabIndex = -1;
      heading.focus({ preventScroll: stays !== null });
    };
    const watcher = new MutationObserver(mend);
    watcher.observe(element, { childList: true, subtree: true });
    element.addEventListener('focusin', take);
    element.addEventListener('focusout', leave);
    return () => {
      watcher.disconnect();
      element.removeEventListener('focusin', take);
      element.removeEventListener('focusout', leave);
    };
  }, [panel]);
}
