import { planBox } from '../drawing/plan-box.ts';
import { fitted } from './camera.ts';
import type { Editor } from './store.ts';

/** Ground that an empty plan shows, metres. */
const EMPTY = { minX: 0, minY: 0, maxX: 12, maxY: 9 } as const;

/** Shows the whole plan. */
export function showAll(editor: Editor): void {
  const { camera, history } = editor.store.getState();
  editor.setCamera(fitted(camera, planBox(history.plan) ?? EMPTY));
}
