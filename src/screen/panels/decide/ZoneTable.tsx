import type { ReactElement } from 'react';
import { formatQuantity } from '../../../base/quantity.ts';
import type { Coverage } from '../../../derive/existing/coverage/index.ts';
import type { ZoneTieIns } from '../../../derive/existing/lateral/index.ts';
import type { Verdict } from '../../../derive/existing/verdict/index.ts';
import type { Plan } from '../../../plan/records.ts';
import { useEditorState } from '../../services.ts';
import { useWords } from '../../words/index.ts';
import { Section } from '../Figures.tsx';
import { useShow } from '../use-show.ts';
import { decidedOf } from '../../../derive/existing/decided.ts';

interface Props {
  readonly plan: Plan;
  readonly verdict: Verdict;
  readonly coverage: Coverage;
  readonly tieIns: readonly ZoneTieIns[];
  /** Number of the zone that is looked at. */
  readonly looked: number;
  onLook(index: number): void;
}

const idsOf = (
  records: Iterable<{ readonly id: string; readonly zone: string | null }>,
  zone: string | null,
) => [...records].filter((record) => record.zone === zone).map(({ id }) => id);

/** All zones with flow, verdict and tie-in; one is looked at. */
export function ZoneTable({ plan, verdict, coverage, tieIns, looked, onLook }: Props): ReactElement {
  const words = useWords().decide;
  const units = useEditorState((state) => state.units);
  const show = useShow();
  const figure = (kind: 'zoneFlow' | 'rate', value: number | null) =>
    value === null ? '–' : formatQuantity(kind, value, units);
  const done = tieIns.filter((one) => decidedOf(plan, one).tieIn !== null).length;
  const counts = { convert: 0, split: 0, leave: 0 };
  for (const { outcome } of verdict.zones) counts[outcome]++;
  return (
    <Section title={words.zones}>
      <p className="verdict" data-outcome={verdict.outcome} data-testid="verdict-all">
        {words.allZones} <strong>{words.outcomes[verdict.outcome]}</strong> {words.outcomeCounts(counts)}
      </p>
      <table className="schedule">
        <thead>
          <tr>
            <th scope="col">{words.zone}</th>
            <th scope="col">{words.flowShort}</th>
            <th scope="col">{words.rateShort}</th>
            <th scope="col">{words.verdictShort}</th>
            <th scope="col">{words.tieInShort}</th>
          </tr>
        </thead>
        <tbody>
          {verdict.zones.map(({ zone, outcome }, i) => {
            const figures = coverage.zones.find((one) => one.zone === zone);
            const own = tieIns.find((one) => one.zone === zone);
            const decided = own ? decidedOf(plan, own).tieIn : null;
            return (
              <tr key={zone ?? ''} aria-selected={i === looked}>
                <th scope="row">
                  <button
                    type="button"
                    className="link"
                    aria-pressed={i === looked}
                    data-testid={`zone-${zone ?? ''}`}
                    onClick={() => {
                      onLook(i);
                      show([
                        ...idsOf(plan.heads, zone).map((id) => ({ table: 'heads', id }) as const),
                        ...idsOf(plan.laterals, zone).map((id) => ({ table: 'laterals', id }) as const),
                      ]);
                    }}
                  >
                    {zone ?? words.noZone}
                  </button>
                </th>
                <td>{figure('zoneFlow', figures?.flowLph ?? null)}</td>
                <td>{figure('rate', figures?.rateMmPerH ?? null)}</td>
                <td>{words.outcomesShort[outcome]}</td>
                <td>{decided ? <strong>{decided.id}</strong> : (own?.candidates[0]?.id ?? '–')}</td>
              </tr>
            );
          })}
        </tbody>
      </table>
      <p className="field-note">
        {words.decidedCount(done, verdict.zones.length)} {words.tieInsBold}
      </p>
    </Section>
  );
}
