import type { ReactElement } from 'react';
import { formatQuantity } from '../../../base/quantity.ts';
import type { DeadLeg, ZoneTieIns } from '../../../derive/existing/lateral/index.ts';
import type { Plan } from '../../../plan/records.ts';
import { useEditorState } from '../../services.ts';
import { useWords } from '../../words/index.ts';
import { Section } from '../Figures.tsx';
import { useShow } from '../use-show.ts';
import { headsOf, jointNames, type Decided } from '../../../derive/existing/decided.ts';
import { smallVolume } from './figures.ts';

interface Props {
  readonly plan: Plan;
  readonly tieIns: ZoneTieIns;
  readonly decided: Decided;
}

/** What to do with each head, by the fate that it has on the plan, and where the old pipe is cut. */
export function Worklist({ plan, tieIns, decided }: Props): ReactElement {
  const words = useWords().decide;
  const show = useShow();
  const legs = decided.tieIn?.legs ?? [];
  const named = jointNames(plan, tieIns.zone);
  const jointOf = new Map(legs.flatMap((leg) => leg.heads.map((id) => [id, named(leg)] as const)));
  return (
    <Section title={words.worklist}>
      <table className="schedule">
        <thead>
          <tr>
            <th scope="col">{words.head}</th>
            <th scope="col" className="text">
              {words.todo}
            </th>
          </tr>
        </thead>
        <tbody>
          {headsOf(plan, tieIns).map(({ id, fate }) => (
            <tr key={id}>
              <th scope="row">
                <button type="button" className="link" onClick={() => show([{ table: 'heads', id }])}>
                  {id}
                </button>
              </th>
              <td className="text">
                {words.fates[fate]}
                {fate === 'cut off' && jointOf.has(id) && ` ${jointOf.get(id)}`}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      {legs.length > 0 && <LegTable legs={legs} named={named} />}
      <p className="field-note">{words.markCaps}</p>
    </Section>
  );
}

/** The dead legs of the decided tie-in: where each hangs, what is in it, what is done about it. */
function LegTable({
  legs,
  named,
}: {
  readonly legs: readonly DeadLeg[];
  named(leg: DeadLeg): string;
}): ReactElement {
  const words = useWords().decide;
  const units = useEditorState((state) => state.units);
  const show = useShow();
  return (
    <>
      <h3 className="field-head">{words.legs}</h3>
      <table className="schedule">
        <thead>
          <tr>
            <th scope="col">{words.at}</th>
            <th scope="col">{words.legLength}</th>
            <th scope="col">{words.legVolume}</th>
            <th scope="col" className="text">
              {words.todo}
            </th>
          </tr>
        </thead>
        <tbody>
          {legs.map((leg, i) => (
            <tr key={i}>
              <th scope="row">
                <button
                  type="button"
                  className="link"
                  onClick={() => show(leg.pieces.map((id) => ({ table: 'laterals', id }) as const))}
                >
                  {named(leg)}
                  {legs.some((other) => other !== leg && named(other) === named(leg)) &&
                    `, ${words.towards} ${leg.heads[0] ?? ''}`}
                </button>
              </th>
              <td>{formatQuantity('length', leg.lengthM, units)}</td>
              <td>{leg.volumeL === null ? '–' : smallVolume(leg.volumeL, units)}</td>
              <td className="text">
                {words.legActions[leg.action]}
                {leg.drains && leg.lies !== 'higher' ? '' : `; ${words.lies[leg.lies]}`}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <p className="field-note">{legs[0]!.source}</p>
    </>
  );
}
