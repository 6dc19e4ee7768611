import type { ReactElement } from 'react';
import { plantChoice } from '../../editor/index.ts';
import type { Plant, PlantClass, WaterUse } from '../../plan/records.ts';
import { useWords } from '../words/index.ts';
import { alike } from './alike.ts';
import { AlikeChoice, AlikeQuantity, AlikeText } from './alike-fields.tsx';

type PlantFields = Omit<Plant, 'id' | 'at'>;
const CLASSES: readonly PlantClass[] = ['tree', 'shrub', 'perennial', 'groundcover'];
const USES: readonly WaterUse[] = ['high', 'moderate', 'low', 'very low'];

/**
 * What is known of a plant, or of several: where they differ the fields say so, and only what is typed is set. A new
 * class brings one plant that class's usual sizes; several keep theirs.
 */
export function PlantFieldsForm({
  value,
  all = [value],
  onChange,
}: {
  readonly value: PlantFields;
  readonly all?: readonly PlantFields[];
  onChange(fields: Partial<PlantFields>): void;
}): ReactElement {
  const words = useWords();
  return (
    <>
      <AlikeChoice
        label={words.fields.plantClass}
        of={alike(all, (one) => one.plantClass)}
        options={CLASSES.map((id) => ({ value: id, label: words.classes[id] }))}
        onChange={(plantClass) =>
          onChange(
            all.length > 1
              ? { plantClass }
              : { ...plantChoice(plantClass, value.name), waterUse: value.waterUse },
          )
        }
      />
      <AlikeText
        label={words.fields.species}
        of={alike(all, (one) => one.name)}
        onChange={(name) => onChange({ name: name ?? '' })}
      />
      <AlikeQuantity
        label={words.fields.canopyNow}
        kind="length"
        of={alike(all, (one) => one.canopyNowM)}
        max={60}
        onChange={(canopyNowM) => onChange({ canopyNowM })}
      />
      <AlikeQuantity
        label={words.fields.canopyMature}
        kind="length"
        of={alike(all, (one) => one.canopyMatureM)}
        min={0.05}
        max={60}
        onChange={(canopyMatureM) => canopyMatureM !== null && onChange({ canopyMatureM })}
      />
      <AlikeQuantity
        label={words.fields.rootBall}
        kind="spacing"
        of={alike(all, (one) => one.rootBallM)}
        max={5}
        onChange={(rootBallM) => onChange({ rootBallM })}
      />
      <AlikeChoice<WaterUse | 'unknown'>
        label={words.fields.waterUse}
        of={alike(all, (one) => one.waterUse ?? 'unknown')}
        options={[
          { value: 'unknown', label: words.fields.useUnknown },
          ...USES.map((id) => ({ value: id, label: words.waterUses[id] })),
        ]}
        onChange={(waterUse) => onChange({ waterUse: waterUse === 'unknown' ? null : waterUse })}
      />
    </>
  );
}
