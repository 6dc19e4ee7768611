import type { ReactElement } from 'react';
import { CHECK_VALVE } from '../../catalog/index.ts';
import { QuantityField } from '../fields/QuantityField.tsx';
import { useEditor, useEditorState } from '../services.ts';
import { useWords } from '../words/index.ts';
import { ControlFields } from './control-fields.tsx';
import { FallByFields } from './fall-form.tsx';
import { Section } from './Figures.tsx';
import { InlineFields, OutletFields, TubingField } from './outlet-fields.tsx';
import { HeadChoices } from './head-form.tsx';
import { ContourTick, HandChoices } from './layout/HandChoices.tsx';
import { LateralChoices } from './lateral-form.tsx';
import { PlantFieldsForm } from './plant-fields.tsx';

/** What the tool in hand will draw next; null for tools without choices. */
function useChoicesForm(): ReactElement | null {
  const editor = useEditor();
  const words = useWords();
  const tool = useEditorState((state) => state.tool);
  const choices = useEditorState((state) => state.choices);
  switch (tool) {
    case 'plant':
      return (
        <PlantFieldsForm
          value={choices.plant}
          onChange={(fields) => editor.setChoices({ plant: { ...choices.plant, ...fields } })}
        />
      );
    case 'lasso':
    case 'row':
    case 'grid':
    case 'brush':
    case 'tape':
      return <HandChoices tool={tool} />;
    case 'head':
      return <HeadChoices />;
    case 'lateral':
      return <LateralChoices />;
    case 'level':
      return (
        <QuantityField
          label={words.fields.height}
          kind="length"
          value={choices.levelM}
          min={-1000}
          max={9000}
          onChange={(levelM) => levelM !== null && editor.setChoices({ levelM })}
        />
      );
    case 'fall':
      return <FallByFields value={choices.fall} onChange={(fall) => editor.setChoices({ fall })} />;
    case 'supply':
      return (
        <QuantityField
          label={words.fields.pressure}
          kind="pressure"
          value={choices.supplyKpa}
          max={2000}
          nullable
          onChange={(supplyKpa) => editor.setChoices({ supplyKpa })}
        />
      );
    case 'control':
      return (
        <ControlFields
          value={choices.control}
          onChange={(fields) => editor.setChoices({ control: { ...choices.control, ...fields } })}
        />
      );
    case 'inline':
      return (
        <>
          <TubingField
            use="inline"
            value={choices.inline.tubing}
            onChange={(tubing) => editor.setChoices({ inline: { ...choices.inline, tubing } })}
          />
          <InlineFields
            value={choices.inline.inline}
            onChange={(inline) => editor.setChoices({ inline: { ...choices.inline, inline } })}
          />
          <ContourTick />
        </>
      );
    case 'blank':
      return (
        <>
          <TubingField
            use="blank"
            value={choices.blank.tubing}
            onChange={(tubing) => editor.setChoices({ blank: { tubing } })}
          />
          <ContourTick />
        </>
      );
    case 'emitter':
      return (
        <OutletFields
          use="point"
          value={choices.emitter}
          onChange={(emitter) => editor.setChoices({ emitter })}
        />
      );
    case 'check':
      return (
        <QuantityField
          label={words.fields.opens}
          kind="pressure"
          value={choices.check.openKpa}
          max={200}
          hint={CHECK_VALVE.source}
          onChange={(openKpa) => openKpa !== null && editor.setChoices({ check: { openKpa } })}
        />
      );
    default:
      return null;
  }
}

/** Shown while a drawing tool is in hand. */
export function ToolChoices(): ReactElement | null {
  const words = useWords();
  const form = useChoicesForm();
  const tool = useEditorState((state) => state.tool);
  const name = tool === 'area' ? '' : words.tools[tool].name;
  // What reads or chooses draws nothing next.
  const title = tool === 'tape' || tool === 'lasso' ? name : `${words.select.next}: ${name}`;
  return form && <Section title={title}>{form}</Section>;
}
