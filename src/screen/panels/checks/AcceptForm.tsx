import { useEffect, useId, useRef, useState, type ReactElement } from 'react';
import { acceptEdit, isEverywhereOnly, waiverFor } from '../../../derive/checks/index.ts';
import type { Notice } from '../../../derive/results.ts';
import { ChoiceField } from '../../fields/ChoiceField.tsx';
import { useEditor, useEditorState } from '../../services.ts';
import { useWords } from '../../words/index.ts';

type Where = 'here' | 'everywhere';

/** Why a finding is accepted as it is, by whom, and how far that goes. */
export function AcceptForm({
  notice,
  onCancel,
  onDone,
}: {
  readonly notice: Notice;
  onCancel(): void;
  onDone(): void;
}): ReactElement {
  const editor = useEditor();
  const words = useWords().checks.form;
  const drawnBy = useEditorState((state) => state.history.plan.site.drawnBy);
  const [reason, setReason] = useState('');
  const [by, setBy] = useState(drawnBy);
  const [where, setWhere] = useState<Where>('here');
  const [problem, setProblem] = useState<{ readonly where: string; readonly text: string } | null>(null);
  const id = useId();
  const first = useRef<HTMLTextAreaElement>(null);
  const name = useRef<HTMLInputElement>(null);
  useEffect(() => first.current?.focus(), []);
  const only = isEverywhereOnly(notice);

  const accept = () => {
    const made = waiverFor(notice, { reason, by, everywhere: only || where === 'everywhere' });
    if (!made.ok) {
      setProblem({ where: made.problem.where, text: `${made.problem.what}. ${made.problem.todo}` });
      (made.problem.where === 'by' ? name : first).current?.focus();
      return;
    }
    editor.commit(acceptEdit(made.value));
    editor.say(words.done);
    onDone();
  };
  const note = (field: string) =>
    problem?.where === field && (
      <p id={`${id}-${field}-note`} className="field-note" role="alert">
        {problem.text}
      </p>
    );
  const described = (field: string) => (problem?.where === field ? `${id}-${field}-note` : undefined);

  return (
    <form
      className="accept-form"
      onSubmit={(event) => {
        event.preventDefault();
        accept();
      }}
      onKeyDown={(event) => {
        if (event.key === 'Escape') {
          event.stopPropagation();
          onCancel();
        }
      }}
    >
      <div className="field" data-long="true" data-wrong={problem?.where === 'reason'}>
        <label htmlFor={`${id}-reason`}>{words.reason}</label>
        <textarea
          id={`${id}-reason`}
          ref={first}
          rows={2}
          maxLength={1000}
          value={reason}
          aria-invalid={problem?.where === 'reason'}
          aria-describedby={described('reason')}
          onChange={(event) => setReason(event.currentTarget.value)}
        />
        {note('reason')}
      </div>
      <div className="field" data-wrong={problem?.where === 'by'}>
        <label htmlFor={`${id}-by`}>{words.by}</label>
        <input
          id={`${id}-by`}
          ref={name}
          type="text"
          maxLength={200}
          autoComplete="off"
          value={by}
          aria-invalid={problem?.where === 'by'}
          aria-describedby={described('by')}
          onChange={(event) => setBy(event.currentTarget.value)}
        />
        {note('by')}
      </div>
      {only ? (
        <p className="field-note">{words.everywhereOnly}</p>
      ) : (
        <ChoiceField<Where>
          label={words.where}
          value={where}
          options={[
            { value: 'here', label: words.here },
            { value: 'everywhere', label: words.everywhere },
          ]}
          onChange={setWhere}
        />
      )}
      {notice.severity === 'error' && (
        <p className="field-note">
          {words.byNeeded} {words.caution}
        </p>
      )}
      <div className="row">
        <button type="submit" className="primary">
          {words.make}
        </button>
        <button type="button" onClick={onCancel}>
          {words.cancel}
        </button>
      </div>
    </form>
  );
}
