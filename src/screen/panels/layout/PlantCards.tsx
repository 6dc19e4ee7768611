import { useMemo, useState, type ReactElement } from 'react';
import type { Plant, RingChoices } from '../../../plan/records.ts';
import { ChoiceField } from '../../fields/ChoiceField.tsx';
import { useEditorState } from '../../services.ts';
import { useWords } from '../../words/index.ts';
import { PointCard } from './PointCard.tsx';
import { RingCard } from './RingCard.tsx';

type Method = 'points' | 'rings';
const METHODS: readonly Method[] = ['points', 'rings'];

/** How the chosen plants are watered: by point emitters; trees also by rings of dripline. Only one is shown at a time. */
export function PlantCards(): ReactElement {
  const words = useWords().follow;
  const plan = useEditorState((state) => state.history.plan);
  const selection = useEditorState((state) => state.selection);
  // Kept while other trees are chosen: they are mostly watered alike.
  const [chosen, choose] = useState<Partial<RingChoices>>({});
  const [asked, ask] = useState<Method>('points');
  const trees = useMemo(
    () =>
      selection.flatMap(({ table, id }): Plant[] => {
        const plant = table === 'plants' ? plan.plants.get(id) : undefined;
        return plant?.plantClass === 'tree' ? [plant] : [];
      }),
    [plan, selection],
  );
  if (trees.length === 0 || trees.length < selection.length) return <PointCard />;
  const ids = new Set(trees.map(({ id }) => id));
  const areRinged = [...plan.fills].some((fill) => fill.kind === 'tree' && ids.has(fill.plantId));
  const method: Method = areRinged ? 'rings' : asked;
  return (
    <>
      {!areRinged && (
        <div className="section">
          <ChoiceField
            label={trees.length === 1 ? words.method1 : words.method}
            value={method}
            options={METHODS.map((one) => ({ value: one, label: words.methods[one] }))}
            onChange={(next) => ask(next)}
          />
        </div>
      )}
      {method === 'points' ? (
        <PointCard />
      ) : (
        <RingCard key={[...ids].join(' ')} plan={plan} trees={trees} chosen={chosen} onChoose={choose} />
      )}
    </>
  );
}
