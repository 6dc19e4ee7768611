import type { ReactElement } from 'react';
import { changePart } from '../../plan/edits/index.ts';
import type { Soil } from '../../plan/records.ts';
import { useEditor, useEditorState } from '../services.ts';
import { useWords } from '../words/index.ts';
import { Section } from './Figures.tsx';
import { CoverFields } from './soil/CoverFields.tsx';
import { IntakeFields } from './soil/IntakeFields.tsx';
import { TextureFields } from './soil/TextureFields.tsx';

/** The soil: texture, how fast it takes in water by the published tables or as measured, roots and cover. */
export function SoilCard(): ReactElement {
  const editor = useEditor();
  const words = useWords();
  const soil = useEditorState((state) => state.history.plan.soil);
  const set = (label: string, fields: Partial<Soil>) => editor.commit(changePart(label, 'soil', fields));
  const isUnknown = Object.values(soil).every((value) => value === null);
  return (
    <Section id="survey-soil" title={words.soil.title}>
      {isUnknown && <p className="quiet-text">{words.soil.none}</p>}
      <TextureFields soil={soil} onChange={set} />
      <IntakeFields soil={soil} onChange={set} />
      <CoverFields soil={soil} onChange={set} />
    </Section>
  );
}
