import type { ReactElement } from 'react';
import { changePart } from '../../plan/edits/index.ts';
import type { FittingFamily } from '../../plan/records.ts';
import { ChoiceField } from '../fields/ChoiceField.tsx';
import { useEditor, useEditorState } from '../services.ts';
import { useWords } from '../words/index.ts';
import { Section } from './Figures.tsx';

const FAMILIES: readonly FittingFamily[] = ['barb', 'clamped barb', 'press-in', 'lock', 'compression'];

/** Ways of building that hold for the whole plan and that checks of pressure and joints reckon with. */
export function PracticeCard(): ReactElement {
  const editor = useEditor();
  const words = useWords().checksFacts.practice;
  const fittings = useEditorState((state) => state.history.plan.practice.fittings);
  return (
    <Section id="survey-practice" title={words.title}>
      <ChoiceField<FittingFamily | ''>
        label={words.fittings}
        value={fittings ?? ''}
        options={[
          { value: '', label: words.usual },
          ...FAMILIES.map((value) => ({ value, label: words.families[value] })),
        ]}
        hint={words.hint}
        onChange={(value) =>
          editor.commit(changePart('Change fittings', 'practice', { fittings: value === '' ? null : value }))
        }
      />
    </Section>
  );
}
