import type { Problem } from '../base/result.ts';
import { flatteningOf, photoLaidFlat, photoTakenBack } from '../derive/index.ts';
import { showAll, type Editor } from '../editor/index.ts';
import { setPhoto } from '../plan/edits/index.ts';
import type { PhotoFlattening } from '../screen/services.ts';
import type { Pictures } from './pictures.ts';

/** Lays the photo of the editor's plan flat, and takes that back: one edit each. */
export function flatteningFor(
  editor: Editor,
  pictures: Pick<Pictures, 'flatten' | 'blobFor'>,
): PhotoFlattening {
  const photoNow = () => editor.store.getState().history.plan.photo;
  const isHere = async (pictureId: string): Promise<boolean> =>
    (await pictures.blobFor(pictureId).catch(() => null)) !== null;

  return {
    async apply(measured, lines, progress, stop): Promise<Problem | null> {
      const photo = photoNow();
      if (!photo) {
        return {
          where: 'site photo',
          what: 'There is no photo under the plan.',
          todo: 'Open one and mark four places on it.',
        };
      }
      const fromTaken = photo.rectification !== null && (await isHere(photo.rectification.source.pictureId));
      const flattening = flatteningOf(photo, measured, fromTaken, lines);
      if (!flattening.ok) return flattening.problem;
      const { rectification, flat } = flattening.value;
      const made = await pictures.flatten(
        rectification.source.pictureId,
        photo.name,
        {
          toSource: flat.toSource,
          widthPx: flat.widthPx,
          heightPx: flat.heightPx,
          source: rectification.source,
        },
        progress,
        stop,
      );
      if (!made || stop.aborted) return null;
      if (!made.ok) return made.problem;
      if (photoNow() !== photo) {
        return {
          where: photo.name,
          what: 'The photo or its measured lines were changed while it was laid flat, so the plan is as it was.',
          todo: 'Press Flatten once more.',
        };
      }
      editor.commit(
        setPhoto(
          'Flatten photo',
          photoLaidFlat(photo, measured.marks, flattening.value, made.value.pictureId, lines),
        ),
      );
      editor.chooseTool('select');
      showAll(editor);
      return null;
    },

    async takeBack() {
      const photo = photoNow();
      const back = photo && photoTakenBack(photo);
      if (!back) return;
      if (!(await isHere(back.pictureId))) {
        editor.say(
          'The picture as taken is not stored in this browser, so the flat one stays. Open the picture again to begin anew.',
          'error',
        );
        return;
      }
      if (photoNow() !== photo) return;
      editor.commit(setPhoto('Take back flat photo', back));
      showAll(editor);
    },
  };
}
