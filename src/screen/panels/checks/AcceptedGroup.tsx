import { useMemo, type ReactElement } from 'react';
import { ruleOf, takeBackEdit, waiverFinder } from '../../../derive/checks/index.ts';
import type { Notice } from '../../../derive/results.ts';
import type { Waiver } from '../../../plan/records.ts';
import { useEditor, useEditorState } from '../../services.ts';
import { useWords } from '../../words/index.ts';
import { useShow } from '../use-show.ts';

/**
 * What the plan accepts as it is, with reason and name, whether or not anything calls for it now.
 * @param part leaves out what nothing in these findings calls for
 */
export function AcceptedGroup({
  notices,
  part,
  onGone,
}: {
  readonly notices: readonly Notice[];
  readonly part: boolean;
  onGone(): void;
}): ReactElement | null {
  const words = useWords().checks.accepted;
  const waivers = useEditorState((state) => state.history.plan.checks.waivers);
  const byWaiver = useMemo(() => {
    const waiverOf = waiverFinder(waivers);
    const found = new Map<Waiver, Notice[]>(waivers.map((waiver) => [waiver, []]));
    for (const notice of notices) if (notice.waived) found.get(waiverOf(notice)!)?.push(notice);
    return [...found].filter(([, own]) => !part || own.length > 0);
  }, [waivers, notices, part]);
  if (byWaiver.length === 0) return null;
  return (
    <details className="accepted" data-testid="accepted">
      <summary>{words.title(byWaiver.length)}</summary>
      <ul>
        {byWaiver.map(([waiver, own], i) => (
          <Accepted key={i} waiver={waiver} notices={own} onGone={onGone} />
        ))}
      </ul>
    </details>
  );
}

function Accepted({
  waiver,
  notices,
  onGone,
}: {
  readonly waiver: Waiver;
  readonly notices: readonly Notice[];
  onGone(): void;
}): ReactElement {
  const editor = useEditor();
  const all = useWords();
  const words = all.checks.accepted;
  const show = useShow();
  const rule = ruleOf(waiver.rule);
  const places = notices.flatMap((notice) => notice.places ?? []);
  const refs = notices.flatMap((notice) => notice.refs);
  const takeBack = () => {
    editor.commit(takeBackEdit(waiver));
    editor.say(words.backDone);
    onGone();
  };
  return (
    <li>
      {notices.length === 0 && (
        <p>
          {rule?.title ?? waiver.rule}. <span className="field-note">{words.silent}</span>
        </p>
      )}
      {notices.map(({ severity, message }, i) => (
        <p key={i}>
          {all.notices[severity]}: {message}
        </p>
      ))}
      <p className="field-note">
        “{waiver.reason}”, {words.by(waiver.by)}
        {waiver.refs.length === 0 && `; ${words.everywhere}`}
      </p>
      <div className="row">
        {refs.length + places.length > 0 && (
          <button type="button" onClick={() => show(refs, places)}>
            {all.checks.show}
          </button>
        )}
        <button type="button" onClick={takeBack}>
          {words.back}
        </button>
      </div>
    </li>
  );
}
