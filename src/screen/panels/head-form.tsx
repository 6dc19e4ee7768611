import type { ReactElement } from 'react';
import { shownPlan } from '../../editor/index.ts';
import { changeHeads } from '../../plan/edits/index.ts';
import type { Head, HeadFate } from '../../plan/records.ts';
import { useEditor, useEditorState } from '../services.ts';
import { useWords } from '../words/index.ts';
import { alike } from './alike.ts';
import { AlikeChoice, AlikeQuantity, AlikeText } from './alike-fields.tsx';
import type { ChangeHead, HeadFacts } from './head-facts.ts';
import { PatternFields, UsualFlowButton } from './head-pattern.tsx';

const FATES: readonly HeadFate[] = ['undecided', 'tie-in', 'cap', 'cut off', 'keep'];
const WATERS = ['bed', 'lawn'] as const;

interface Props {
  readonly heads: readonly HeadFacts[];
  /** Changes every one of the heads. */
  readonly change: ChangeHead;
}

/** Facts that a head has from its survey: what it wets, gives and is made of. */
function SurveyFields({ heads, change }: Props): ReactElement {
  const words = useWords().heads;
  const set = (fields: Partial<HeadFacts>) => change(() => fields);
  const blocked = alike(heads, (head) => (head.blocked === null ? 'unknown' : head.blocked ? 'yes' : 'no'));
  return (
    <>
      <PatternFields heads={heads} change={change} />
      <AlikeQuantity
        label={words.flow}
        kind="zoneFlow"
        of={alike(heads, (head) => head.flowLph)}
        max={10_000}
        onChange={(flowLph) => set({ flowLph })}
      />
      <UsualFlowButton heads={heads} change={change} />
      <AlikeQuantity
        label={words.pressure}
        kind="pressure"
        of={alike(heads, (head) => head.pressureKpa)}
        max={2000}
        empty={words.pressureEmpty}
        onChange={(pressureKpa) => set({ pressureKpa })}
      />
      <AlikeChoice
        label={words.waters}
        of={alike(heads, (head) => head.waters)}
        options={WATERS.map((value) => ({ value, label: words.watersWords[value] }))}
        onChange={(waters) => set({ waters })}
      />
      <AlikeChoice
        label={words.blocked}
        of={blocked}
        options={[
          { value: 'unknown', label: words.notKnown },
          { value: 'no', label: words.no },
          { value: 'yes', label: words.yes },
        ]}
        onChange={(value) => set({ blocked: value === 'unknown' ? null : value === 'yes' })}
      />
      <AlikeText
        label={words.body}
        of={alike(heads, (head) => head.body)}
        placeholder={words.bodyFor}
        onChange={(body) => set({ body })}
      />
      <AlikeText
        label={words.thread}
        of={alike(heads, (head) => head.thread)}
        placeholder={words.threadFor}
        onChange={(thread) => set({ thread })}
      />
      <AlikeText
        label={words.zone}
        of={alike(heads, (head) => head.zone)}
        placeholder={words.zoneEmpty}
        onChange={(zone) => set({ zone })}
      />
    </>
  );
}

/** What the next head will be like. */
export function HeadChoices(): ReactElement {
  const editor = useEditor();
  const words = useWords().heads;
  const head = useEditorState((state) => state.choices.head);
  return (
    <>
      <p className="field-note">{words.wetsNote}</p>
      <SurveyFields
        heads={[head]}
        change={(fields) => editor.setChoices({ head: { ...head, ...fields(head) } })}
      />
    </>
  );
}

/** The chosen heads: all facts of one, or what several have in common. */
export function HeadForm({ record }: { readonly record: Head }): ReactElement {
  const editor = useEditor();
  const words = useWords();
  const selection = useEditorState((state) => state.selection);
  // The sector as it is while a handle is pulled.
  const plan = useEditorState(shownPlan);
  const ids = selection.map((ref) => ref.id);
  const chosen = ids.flatMap((id) => plan.heads.get(id) ?? []);
  const heads = chosen.length ? chosen : [record];
  const change: ChangeHead = (fields) =>
    editor.commit(
      changeHeads(
        'Change spray head',
        heads.map(({ id }) => id),
        fields,
      ),
    );
  return (
    <>
      <SurveyFields heads={heads} change={change} />
      <AlikeText
        label={words.heads.note}
        of={alike(heads, (head) => head.note)}
        long
        onChange={(note) => change(() => ({ note: note ?? '' }))}
      />
      <AlikeChoice
        label={words.fields.fate}
        of={alike(heads, (head) => head.fate)}
        options={FATES.map((value) => ({ value, label: words.fates[value] }))}
        onChange={(fate) => change(() => ({ fate }))}
      />
    </>
  );
}
