import type { ReactElement } from 'react';
import { changePart } from '../../plan/edits/index.ts';
import { QuantityField } from '../fields/QuantityField.tsx';
import { TextField } from '../fields/TextField.tsx';
import { useEditor, useEditorState } from '../services.ts';
import { useWords } from '../words/index.ts';
import { ControllerCard } from './ControllerCard.tsx';
import { Section } from './Figures.tsx';
import { GroundCard } from './GroundCard.tsx';
import { PhotoCard } from './PhotoCard.tsx';
import { PlantingCard } from './PlantingCard.tsx';
import { PracticeCard } from './PracticeCard.tsx';
import { SectionCard } from './SectionCard.tsx';
import { SoilCard } from './SoilCard.tsx';
import { SurveyIndex } from './SurveyIndex.tsx';
import { WaterCard } from './WaterCard.tsx';

/** All that is surveyed, part by part. */
export function SurveyPanel({ onOpen }: { onOpen(): void }): ReactElement {
  const editor = useEditor();
  const words = useWords();
  const site = useEditorState((state) => state.history.plan.site);
  const setSite = (fields: Partial<typeof site>) => editor.commit(changePart('Change site', 'site', fields));
  return (
    <>
      <SurveyIndex />
      <SectionCard />
      <PhotoCard onOpen={onOpen} />
      <Section id="survey-site" title={words.site.title}>
        <TextField label={words.site.name} value={site.name} onChange={(name) => setSite({ name })} />
        <QuantityField
          label={words.site.north}
          kind="angle"
          value={site.northDeg}
          min={-360}
          max={360}
          onChange={(northDeg) => northDeg !== null && setSite({ northDeg })}
        />
        <TextField label={words.site.client} value={site.client} onChange={(client) => setSite({ client })} />
        <TextField
          label={words.site.address}
          value={site.address}
          onChange={(address) => setSite({ address })}
        />
        <TextField
          label={words.site.drawnBy}
          value={site.drawnBy}
          onChange={(drawnBy) => setSite({ drawnBy })}
        />
        <TextField label={words.site.date} value={site.date} onChange={(date) => setSite({ date })} />
        <TextField
          label={words.site.notes}
          value={site.notes}
          long
          onChange={(notes) => setSite({ notes })}
        />
      </Section>
      <GroundCard />
      <WaterCard />
      <ControllerCard />
      <SoilCard />
      <PlantingCard />
      <PracticeCard />
    </>
  );
}
