import type { ReactElement } from 'react';
import type { Soil, SoilCover } from '../../../plan/records.ts';
import { OptionalChoice } from '../../fields/ChoiceField.tsx';
import { QuantityField } from '../../fields/QuantityField.tsx';
import { TextField } from '../../fields/TextField.tsx';
import { useWords } from '../../words/index.ts';

interface Props {
  readonly soil: Soil;
  onChange(label: string, fields: Partial<Soil>): void;
}

const COVERS: readonly SoilCover[] = ['bare', 'mulch', 'gravel', 'fabric', 'netting', 'plants'];

/** How deep the roots go, whether the subsoil is compact, and what lies on the soil. */
export function CoverFields({ soil, onChange }: Props): ReactElement {
  const words = useWords().soil.site;
  const { compacted, coverKind } = soil;
  const hasDepth = (coverKind !== null && coverKind !== 'bare') || soil.coverDepthM !== null;
  return (
    <div className="working soil-part" role="group" aria-label={words.head}>
      <h3 className="field-head">{words.head}</h3>
      <QuantityField
        label={words.roots}
        kind="spacing"
        value={soil.rootDepthM}
        nullable
        max={20}
        onChange={(rootDepthM) => onChange('Change root depth', { rootDepthM })}
      />
      <OptionalChoice
        label={words.compacted}
        value={compacted === null ? null : compacted ? 'yes' : 'no'}
        known={null}
        options={[
          { value: 'yes', label: words.yes },
          { value: 'no', label: words.no },
        ]}
        hint={words.compactedHint}
        onChange={(answer) =>
          onChange('Change subsoil', { compacted: answer === null ? null : answer === 'yes' })
        }
      />
      <OptionalChoice
        label={words.cover}
        value={coverKind}
        known={coverKind}
        options={COVERS.map((kind) => ({ value: kind, label: words.covers[kind] }))}
        hint={words.coverHint}
        onChange={(kind) =>
          onChange('Change cover', { coverKind: COVERS.find((cover) => cover === kind) ?? null })
        }
      />
      {hasDepth && (
        <QuantityField
          label={words.depth}
          kind="spacing"
          value={soil.coverDepthM}
          nullable
          max={2}
          onChange={(coverDepthM) => onChange('Change cover', { coverDepthM })}
        />
      )}
      <TextField
        label={words.words}
        value={soil.cover ?? ''}
        onChange={(cover) => onChange('Change cover', { cover: cover.trim() === '' ? null : cover.trim() })}
      />
      <QuantityField
        label={words.fabric}
        kind="rate"
        value={soil.fabricIntakeMmPerH}
        nullable
        hint={words.fabricHint}
        max={5000}
        onChange={(fabricIntakeMmPerH) => onChange('Change fabric intake', { fabricIntakeMmPerH })}
      />
    </div>
  );
}
