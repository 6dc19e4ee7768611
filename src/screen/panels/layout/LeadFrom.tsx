import type { ReactElement } from 'react';
import { waterNear } from '../../../layout/live/index.ts';
import type { Point } from '../../../base/point.ts';
import type { Plan } from '../../../plan/records.ts';
import { ChoiceField } from '../../fields/ChoiceField.tsx';
import { useWords } from '../../words/index.ts';

/** Which control set the header is led from; nothing while there is no choice. */
export function LeadFrom({
  plan,
  starts,
  value,
  onChange,
}: {
  readonly plan: Plan;
  /** Where the rows begin. */
  readonly starts: readonly Point[];
  readonly value: string | undefined;
  onChange(controlId: string | undefined): void;
}): ReactElement | null {
  const words = useWords().follow;
  if (plan.controls.size < 2) return null;
  // A control set that is gone counts as none chosen.
  const chosen = value !== undefined && plan.controls.has(value) ? value : '';
  return (
    <ChoiceField
      label={words.leadFrom}
      value={chosen}
      options={[
        { value: '', label: words.nearest(waterNear(plan, starts)?.name ?? null) },
        ...[...plan.controls].map(({ id, name }) => ({ value: id, label: name.trim() || id })),
      ]}
      hint={words.leadFromHint}
      onChange={(id) => onChange(id === '' ? undefined : id)}
    />
  );
}
