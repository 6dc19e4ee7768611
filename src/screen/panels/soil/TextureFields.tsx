import type { ReactElement } from 'react';
import { formatQuantity } from '../../../base/quantity.ts';
import { textureNamed, TEXTURES } from '../../../catalog/index.ts';
import { textureOf } from '../../../derive/soil/index.ts';
import type { Soil } from '../../../plan/records.ts';
import { OptionalChoice } from '../../fields/ChoiceField.tsx';
import { QuantityField } from '../../fields/QuantityField.tsx';
import { useEditorState } from '../../services.ts';
import { useWords } from '../../words/index.ts';
import { Figures } from '../Figures.tsx';
import { TextureTriangle } from './TextureTriangle.tsx';

interface Props {
  readonly soil: Soil;
  onChange(label: string, fields: Partial<Soil>): void;
}

const OPTIONS = TEXTURES.map(({ texture }) => ({ value: texture, label: texture }));

/** The texture by jar test, ribbon test or as noted, and the class that follows. */
export function TextureFields({ soil, onChange }: Props): ReactElement {
  const words = useWords().soil.texture;
  const units = useEditorState((state) => state.units);
  const found = textureOf(soil);
  const shares = [soil.sandPercent, soil.siltPercent, soil.clayPercent];
  const rows: [string, string, string?][] = [];
  if (!shares.includes(null)) {
    const sum = shares.reduce<number>((total, share) => total + (share ?? 0), 0);
    rows.push([words.sum, formatQuantity('percent', sum, units, { digits: Number.isInteger(sum) ? 0 : 1 })]);
  }
  if (found.texture && found.how) {
    const others = found.others.length ? ` (${words.others} ${found.others.join(', ')})` : '';
    rows.push([words.taken, `${found.texture}${others}, ${words.how[found.how]}`, found.source ?? '']);
  }
  return (
    <div className="working soil-part" role="group" aria-label={words.head}>
      <h3 className="field-head">{words.head}</h3>
      <QuantityField
        label={words.sand}
        kind="percent"
        value={soil.sandPercent}
        nullable
        max={100}
        onChange={(sandPercent) => onChange('Change jar test', { sandPercent })}
      />
      <QuantityField
        label={words.silt}
        kind="percent"
        value={soil.siltPercent}
        nullable
        max={100}
        onChange={(siltPercent) => onChange('Change jar test', { siltPercent })}
      />
      <QuantityField
        label={words.clay}
        kind="percent"
        value={soil.clayPercent}
        nullable
        max={100}
        hint={words.jarHint}
        onChange={(clayPercent) => onChange('Change jar test', { clayPercent })}
      />
      <QuantityField
        label={words.ribbon}
        kind="spacing"
        value={soil.ribbonM}
        nullable
        max={1}
        hint={words.ribbonHint}
        onChange={(ribbonM) => onChange('Change ribbon test', { ribbonM })}
      />
      <OptionalChoice
        label={words.noted}
        value={soil.texture}
        known={soil.texture === null ? null : textureNamed(soil.texture)}
        options={OPTIONS}
        onChange={(texture) => onChange('Change texture', { texture })}
      />
      {rows.length > 0 && <Figures rows={rows} />}
      {found.disagreement && (
        <p className="advice" data-severity="warning">
          {found.disagreement}
        </p>
      )}
      {(found.texture ?? found.shares) && <TextureTriangle texture={found.texture} shares={found.shares} />}
    </div>
  );
}
