import { useDeferredValue, useEffect, useMemo, useState, type ReactElement } from 'react';
import { coverageOf } from '../../derive/existing/coverage/index.ts';
import { lateralsOf, tieInsOf } from '../../derive/existing/lateral/index.ts';
import { verdictOf } from '../../derive/existing/verdict/index.ts';
import { useEditorState } from '../services.ts';
import { useWords } from '../words/index.ts';
import { ExistingCard, ZoneCard } from './decide/ExistingCard.tsx';
import { TieInCard } from './decide/TieInCard.tsx';
import { VerdictCard } from './decide/VerdictCard.tsx';
import { ZoneTable } from './decide/ZoneTable.tsx';
import { Section } from './Figures.tsx';

/**
 * What is on the site today, whether to convert it, and where drip ties in. All of it follows from the plan; computed
 * while the view is open, after what the person just did is on the screen.
 */
export function DecidePanel(): ReactElement {
  const words = useWords().decide;
  const plan = useDeferredValue(useEditorState((state) => state.history.plan));
  const units = useEditorState((state) => state.units);
  const coverage = useMemo(() => coverageOf(plan), [plan]);
  const laterals = useMemo(() => lateralsOf(plan), [plan]);
  const tieIns = useMemo(() => tieInsOf(plan, { units }), [plan, units]);
  const verdict = useMemo(() => verdictOf(plan, units), [plan, units]);
  const [lookedAt, lookAt] = useState(0);
  const several = verdict.zones.length > 1;
  const index = Math.min(lookedAt, Math.max(0, verdict.zones.length - 1));
  const zone = verdict.zones[index] ?? null;

  // Whoever presses a head or pipe of another zone looks at that zone.
  const pressed = useEditorState(({ selection, history }) => {
    const ref = selection.length === 1 ? selection[0]! : null;
    return ref?.table === 'heads' || ref?.table === 'laterals'
      ? (history.plan[ref.table].get(ref.id)?.zone ?? null)
      : null;
  });
  const zones = verdict.zones;
  useEffect(() => {
    const found = pressed === null ? -1 : zones.findIndex((one) => one.zone === pressed);
    if (found >= 0) lookAt(found);
  }, [pressed, zones]);

  const any = plan.heads.size + plan.laterals.size > 0;
  // Old pipe of a zone without heads has no verdict of its own, and is not to be lost.
  const own = tieIns.filter(
    (one) => !several || one.zone === zone?.zone || !zones.some((other) => other.zone === one.zone),
  );
  return (
    <>
      {several && (
        <ZoneTable
          plan={plan}
          verdict={verdict}
          coverage={coverage}
          tieIns={tieIns}
          looked={index}
          onLook={lookAt}
        />
      )}
      {any && <VerdictCard verdict={verdict} zone={zone} />}
      {several && zone && (
        <ZoneCard
          coverage={coverage}
          zone={zone}
          laterals={laterals.filter((one) => one.zone === zone.zone)}
        />
      )}
      <ExistingCard plan={plan} coverage={coverage} laterals={several ? [] : laterals} />
      {own.map((one) => (
        <TieInCard key={`${one.zone ?? ''}/${one.supplyId ?? ''}`} plan={plan} tieIns={one} />
      ))}
      {any && own.length === 0 && (
        <Section title={words.tieIns}>
          <p className="advice">{words.noTieIns}</p>
        </Section>
      )}
    </>
  );
}
