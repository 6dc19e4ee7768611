import type { ReactElement } from 'react';
import { formatQuantity } from '../../../base/quantity.ts';
import { FEEDER_WARN_M } from '../../../derive/checks/feeder-length.ts';
import { movedOut, moveOutEdit } from '../../../layout/points/index.ts';
import type { Plan, Plant } from '../../../plan/records.ts';
import { useEditor, useEditorState } from '../../services.ts';
import { useWords } from '../../words/index.ts';

/** Moves the emitters of plants out to the mature canopy, ids and number kept, as one step. */
export function MoveOut({
  plan,
  plants,
}: {
  readonly plan: Plan;
  readonly plants: readonly Plant[];
}): ReactElement {
  const editor = useEditor();
  const words = useWords().points;
  const units = useEditorState((state) => state.units);
  const move = () => {
    const moved = movedOut(plan, plants);
    if (moved.emitters.length === 0) {
      editor.say(words.nothingToMove);
      return;
    }
    editor.preview(null);
    editor.commit(moveOutEdit(plan, plants, words.moveOut, moved));
    const length = formatQuantity('length', moved.furthestM, units);
    editor.say(
      moved.furthestM > FEEDER_WARN_M
        ? words.movedFar(moved.emitters.length, length)
        : words.moved(moved.emitters.length),
    );
  };
  return (
    <div className="row">
      <button type="button" data-testid="points-move-out" title={words.moveOutHint} onClick={move}>
        {words.moveOut}
      </button>
    </div>
  );
}
