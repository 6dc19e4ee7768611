import { useId, useState, type ReactElement } from 'react';
import { fixEdit, ruleOf } from '../../../derive/checks/index.ts';
import type { Notice } from '../../../derive/results.ts';
import type { Plan } from '../../../plan/records.ts';
import { useEditor, useEditorState } from '../../services.ts';
import { useWords } from '../../words/index.ts';
import { alikeButWaivers } from '../use-notices.ts';
import { useShow } from '../use-show.ts';
import { AcceptForm } from './AcceptForm.tsx';

/** One finding: its words, and what can be done about it. */
export function Finding({
  notice,
  of,
  onGone,
}: {
  readonly notice: Notice;
  readonly of: Plan | undefined;
  onGone(): void;
}): ReactElement {
  const editor = useEditor();
  const all = useWords();
  const words = all.checks;
  const offered = useEditorState((state) => state.offer !== null);
  const show = useShow();
  const [accepting, setAccepting] = useState(false);
  const [sourced, setSourced] = useState(false);
  const { message, refs, places = [], fix, source } = notice;
  const rule = ruleOf(notice.rule);
  const id = useId();

  const takeFix = () => {
    const { history, answer } = editor.store.getState();
    const found = of ?? (answer?.checked ? answer.plan : null);
    // A way out that was found for another plan may be taken already, or lead astray.
    if (!fix || !found || !alikeButWaivers(found, history.plan)) return editor.say(words.stale, 'error');
    const edit = fixEdit(fix);
    if (edit.apply(history.plan) === history.plan) return editor.say(words.fixedNothing);
    editor.commit(edit);
    editor.say(words.fixed(fix.label));
    onGone();
  };

  return (
    <div className="finding">
      <p id={id}>{message}</p>
      <div className="row" role="group" aria-describedby={id}>
        {refs.length + places.length > 0 && (
          <button type="button" title={words.showTitle} onClick={() => show(refs, places)}>
            {words.show}
          </button>
        )}
        {fix && (
          <button
            type="button"
            className="fix"
            disabled={offered}
            title={offered ? all.offer.first : undefined}
            onClick={takeFix}
          >
            {words.fix(fix.label)}
          </button>
        )}
        <button
          type="button"
          className="quiet"
          aria-expanded={accepting}
          onClick={() => setAccepting(!accepting)}
        >
          {words.accept}
        </button>
        {(rule || source) && (
          <button
            type="button"
            className="quiet"
            aria-expanded={sourced}
            title={words.sourceTitle}
            onClick={() => setSourced(!sourced)}
          >
            {words.source}
          </button>
        )}
      </div>
      {fix && offered && <p className="field-note">{all.offer.first}</p>}
      {sourced && (
        <p className="field-note">
          {rule && `${words.number(rule.number)}: ${rule.title}. `}
          {source && words.sourceIs(source)}
        </p>
      )}
      {accepting && (
        <AcceptForm
          notice={notice}
          onCancel={() => setAccepting(false)}
          onDone={() => {
            setAccepting(false);
            onGone();
          }}
        />
      )}
    </div>
  );
}
