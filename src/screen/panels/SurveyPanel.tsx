import type { ReactElement } from 'react';
import { formatQuantity } from '../../base/quantity.ts';
import { changePart } from '../../plan/edits/index.ts';
import { QuantityField } from '../fields/QuantityField.tsx';
import { TextField } from '../fields/TextField.tsx';
import { useEditor, useEditorState } from '../services.ts';
import { useWords } from '../words/index.ts';
import { Figures, Section } from './Figures.tsx';
import { PhotoCard } from './PhotoCard.tsx';
import { WaterCard } from './WaterCard.tsx';

/** The site: photo, names for the title block, water service. */
export function SurveyPanel({ onOpen }: { onOpen(): void }): ReactElement {
  const editor = useEditor();
  const words = useWords();
  const site = useEditorState((state) => state.history.plan.site);
  const setSite = (fields: Partial<typeof site>) => editor.commit(changePart('Change site', 'site', fields));
  return (
    <>
      <PhotoCard onOpen={onOpen} />
      <Section title={words.site.title}>
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
      <WaterCard />
      <SoilFigures />
    </>
  );
}

/** The soil as surveyed, when anything is known of it. */
function SoilFigures(): ReactElement | null {
  const words = useWords();
  const soil = useEditorState((state) => state.history.plan.soil);
  const units = useEditorState((state) => state.units);
  const rows: [string, string][] = [];
  if (soil.texture) rows.push([words.site.texture, soil.texture]);
  if (soil.intakeMmPerH !== null)
    rows.push([words.site.intake, formatQuantity('rate', soil.intakeMmPerH, units)]);
  if (soil.rootDepthM !== null)
    rows.push([words.site.roots, formatQuantity('spacing', soil.rootDepthM, units)]);
  if (soil.cover) rows.push([words.site.cover, soil.cover]);
  return rows.length ? (
    <Section title={words.site.soil}>
      <Figures rows={rows} />
    </Section>
  ) : null;
}
