import type { ReactElement } from 'react';
import { plantChoice } from '../../editor/index.ts';
import type { Plant, PlantClass, WaterUse } from '../../plan/records.ts';
import { ChoiceField } from '../fields/ChoiceField.tsx';
import { QuantityField } from '../fields/QuantityField.tsx';
import { TextField } from '../fields/TextField.tsx';
import { useWords } from '../words/index.ts';

type PlantFields = Omit<Plant, 'id' | 'at'>;
const CLASSES: readonly PlantClass[] = ['tree', 'shrub', 'perennial', 'groundcover'];
const USES: readonly WaterUse[] = ['high', 'moderate', 'low', 'very low'];

/** What is known of a plant. A new class brings that class's usual sizes. */
export function PlantFieldsForm({
  value,
  onChange,
}: {
  readonly value: PlantFields;
  onChange(fields: Partial<PlantFields>): void;
}): ReactElement {
  const words = useWords();
  return (
    <>
      <ChoiceField
        label={words.fields.plantClass}
        value={value.plantClass}
        options={CLASSES.map((id) => ({ value: id, label: words.classes[id] }))}
        onChange={(plantClass) =>
          onChange({ ...plantChoice(plantClass, value.name), waterUse: value.waterUse })
        }
      />
      <TextField label={words.fields.species} value={value.name} onChange={(name) => onChange({ name })} />
      <QuantityField
        label={words.fields.canopyNow}
        kind="length"
        value={value.canopyNowM}
        nullable
        max={60}
        onChange={(canopyNowM) => onChange({ canopyNowM })}
      />
      <QuantityField
        label={words.fields.canopyMature}
        kind="length"
        value={value.canopyMatureM}
        min={0.05}
        max={60}
        onChange={(canopyMatureM) => canopyMatureM !== null && onChange({ canopyMatureM })}
      />
      <QuantityField
        label={words.fields.rootBall}
        kind="spacing"
        value={value.rootBallM}
        nullable
        max={5}
        onChange={(rootBallM) => onChange({ rootBallM })}
      />
      <ChoiceField<WaterUse | ''>
        label={words.fields.waterUse}
        value={value.waterUse ?? ''}
        options={[
          { value: '', label: words.fields.useUnknown },
          ...USES.map((id) => ({ value: id, label: words.waterUses[id] })),
        ]}
        onChange={(waterUse) => onChange({ waterUse: waterUse === '' ? null : waterUse })}
      />
    </>
  );
}
