import { boxOf } from '../base/point.ts';
import { placesOf } from '../plan/places.ts';
import { planBox } from '../drawing/plan-box.ts';
import { fitted } from './camera.ts';
import type { Editor } from './store.ts';

/** Ground that an empty plan shows, metres. */
const EMPTY = { minX: 0, minY: 0, maxX: 12, maxY: 9 } as const;

/** Ground round a single small thing, metres. */
const ROOM_M = 2;

/** Shows all that is chosen; with nothing chosen the view stays. */
export function showChosen(editor: Editor): void {
  const { camera, history, selection } = editor.store.getState();
  const box = boxOf(selection.flatMap((ref) => placesOf(history.plan, ref)));
  if (!box) return;
  const grow = (least: number, most: number): readonly [number, number] => {
    const lack = Math.max(0, ROOM_M - (most - least)) / 2;
    return [least - lack, most + lack];
  };
  const [minX, maxX] = grow(box.minX, box.maxX);
  const [minY, maxY] = grow(box.minY, box.maxY);
  editor.setCamera(fitted(camera, { minX, minY, maxX, maxY }));
}

/** Shows the whole plan. */
export function showAll(editor: Editor): void {
  const { camera, history } = editor.store.getState();
  editor.setCamera(fitted(camera, planBox(history.plan) ?? EMPTY));
}
