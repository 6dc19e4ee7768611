import { useMemo, type ReactElement } from 'react';
import { formatQuantity } from '../../base/quantity.ts';
import { existingOf } from '../../derive/existing/index.ts';
import { useEditorState } from '../services.ts';
import { useWords } from '../words/index.ts';
import { Figures, Section } from './Figures.tsx';

/** What is on the site today, in figures. */
export function DecidePanel(): ReactElement {
  const words = useWords();
  const plan = useEditorState((state) => state.history.plan);
  const units = useEditorState((state) => state.units);
  const existing = useMemo(() => existingOf(plan), [plan]);
  const show = (kind: Parameters<typeof formatQuantity>[0], value: number | null) =>
    value === null ? words.site.unmeasured : formatQuantity(kind, value, units);
  const any = plan.heads.size + plan.laterals.size > 0;
  return (
    <Section title={words.decide.title}>
      <p className="quiet-text">{words.decide.text}</p>
      <Figures
        rows={[
          [words.decide.beds, show('area', existing.bedAreaM2)],
          [words.decide.plants, String(existing.plantCount)],
          [words.decide.heads, String(existing.headCount)],
          [words.decide.flow, show('zoneFlow', existing.totalFlowLph)],
          [words.decide.rate, show('rate', existing.precipitationMmPerH)],
          [words.decide.lateral, show('length', existing.lateralLengthM)],
          [words.decide.volume, show('volume', existing.lateralVolumeL)],
        ]}
      />
      {!any && <p className="advice">{words.decide.nothing}</p>}
    </Section>
  );
}
