import type { ReactElement } from 'react';
import type { Problem } from '../../../base/result.ts';
import { change, remove, together } from '../../../plan/edits/index.ts';
import type { Fill } from '../../../plan/records.ts';
import { useEditor } from '../../services.ts';
import { useWords } from '../../words/index.ts';
import { Tick } from './FillFields.tsx';

interface FillsProps {
  readonly fills: readonly Fill[];
}

/** Rows or rings that were changed by hand: to be drawn anew, or to be left alone for good. */
export function ByHand({
  fills,
  text,
  anew,
  forgotten,
}: FillsProps & { readonly text: string; readonly anew: string; readonly forgotten: string }): ReactElement {
  const editor = useEditor();
  const words = useWords().follow;
  const ids = fills.filter(({ byHand }) => byHand).map(({ id }) => id);
  return (
    <>
      <p className="advice" data-severity="warning" data-testid="by-hand">
        {text}
      </p>
      <div className="row">
        <button
          type="button"
          className="primary"
          onClick={() => editor.commit(change(anew, 'fills', ids, { byHand: false }))}
        >
          {anew}
        </button>
        <ForgetButton ids={ids} label={words.keep} title={words.keepHint} forgotten={forgotten} />
      </div>
    </>
  );
}

/** Makes plain runs of what follows: the records of the fills go, the runs stay. */
export function ForgetButton({
  ids,
  label,
  title,
  forgotten,
}: {
  readonly ids: readonly string[];
  readonly label: string;
  readonly title: string;
  readonly forgotten: string;
}): ReactElement {
  const editor = useEditor();
  const forget = () => {
    editor.select([]);
    editor.commit(
      remove(
        label,
        ids.map((id) => ({ table: 'fills', id })),
      ),
    );
    editor.say(forgotten);
  };
  return (
    <button type="button" className="quiet" title={title} onClick={forget}>
      {label}
    </button>
  );
}

/** Whether water is led to what follows; the tick changes it at once. */
export function LiveLead({
  fills,
  name,
}: FillsProps & { readonly name: string | null }): ReactElement | null {
  const editor = useEditor();
  const words = useWords().follow;
  if (name === null) return null;
  const set = (lead: boolean) =>
    editor.commit(
      together(
        words.label,
        fills
          .filter(({ leadIds }) => (leadIds !== undefined) !== lead)
          .map(({ id }) => change('', 'fills', [id], { leadIds: lead ? [] : undefined })),
      ),
    );
  return (
    <Tick
      label={words.lead(name)}
      title={words.leadHint}
      checked={fills.every(({ leadIds }) => leadIds !== undefined)}
      onChange={set}
    />
  );
}

/** Why a change was not made. */
export function NotChanged({ problem }: { readonly problem: Problem | null }): ReactElement | null {
  const words = useWords().follow;
  if (!problem) return null;
  return (
    <p className="advice" role="alert" data-severity="warning">
      {words.notChanged} {problem.what}. {problem.todo}
    </p>
  );
}
