import { useEffect, useMemo, useState, type ReactElement } from 'react';
import { formatQuantity } from '../../../base/quantity.ts';
import { tieInEdits, type TieIn, type ZoneTieIns } from '../../../derive/existing/lateral/index.ts';
import type { Plan } from '../../../plan/records.ts';
import { useEditor, useEditorState } from '../../services.ts';
import { useWords } from '../../words/index.ts';
import { Section } from '../Figures.tsx';
import { isShown } from '../use-show.ts';
import { decidedOf, takeBack } from '../../../derive/existing/decided.ts';
import { smallVolume } from './figures.ts';
import { Worklist } from './Worklist.tsx';

/** Candidates shown before the rest is unfolded: while one is looked for, and once one is decided for. */
const MOST = 8;
const MOST_DECIDED = 3;

interface Props {
  readonly plan: Plan;
  readonly tieIns: ZoneTieIns;
}

/** The places where drip may tie in, best first; one is looked at, and one may be decided for. */
export function TieInCard({ plan, tieIns }: Props): ReactElement {
  const editor = useEditor();
  const words = useWords().decide;
  const decided = useMemo(() => decidedOf(plan, tieIns), [plan, tieIns]);
  const [lookedAt, lookAt] = useState<string | null>(null);
  const pressed = useEditorState(({ selection }) =>
    selection.length === 1 && selection[0]!.table === 'heads' && !isShown(selection)
      ? selection[0]!.id
      : null,
  );
  const looked = tieIns.candidates.find(({ id }) => id === lookedAt) ?? null;

  // A head that is pressed on the plan is looked at as the tie-in.
  useEffect(() => {
    if (pressed === null || !tieIns.candidates.some(({ id }) => id === pressed)) return;
    lookAt(pressed);
    requestAnimationFrame(() =>
      document
        .querySelector(`[data-testid="tie-in-${CSS.escape(pressed)}"]`)
        ?.scrollIntoView({ block: 'center' }),
    );
  }, [pressed, tieIns]);

  const edit = useMemo(() => (looked ? tieInEdits(plan, looked) : null), [plan, looked]);
  useEffect(() => {
    editor.preview(edit);
    return () => editor.preview(null);
  }, [editor, edit]);
  const trial = looked?.id ?? null;
  useEffect(() => {
    if (trial !== null) editor.say(`${trial} ${words.trial}`);
  }, [editor, trial, words]);

  const use = () => {
    if (!looked) return;
    lookAt(null);
    editor.select([]);
    editor.preview(null);
    editor.commit(tieInEdits(editor.store.getState().history.plan, looked, `${words.useLabel} ${looked.id}`));
    editor.say(`${looked.id} ${words.using}`);
  };
  const back = () => {
    lookAt(null);
    editor.select([]);
    editor.preview(null);
    editor.commit(takeBack(words.takeBackLabel, editor.store.getState().history.plan, tieIns));
  };
  if (tieIns.candidates.length === 0) {
    return (
      <Section title={words.tieIns}>
        <p className="advice">{words.noTieIns}</p>
        <TieInNotices tieIns={tieIns} />
      </Section>
    );
  }
  const item = ({ tieIn, rank }: { readonly tieIn: TieIn; readonly rank: number }) => (
    <TieInItem
      key={tieIn.id}
      tieIn={tieIn}
      rank={rank}
      looked={tieIn === looked}
      chosen={tieIn === decided.tieIn}
      onLook={() => lookAt(tieIn === looked ? null : tieIn.id)}
      onUse={use}
    />
  );
  const most = decided.any ? MOST_DECIDED : MOST;
  const ranked = tieIns.candidates.map((tieIn, i) => ({ tieIn, rank: i + 1 }));
  const isFirst = ({ tieIn, rank }: (typeof ranked)[number]) => rank <= most || tieIn === decided.tieIn;
  const first = ranked.filter(isFirst);
  const rest = ranked.filter((one) => !isFirst(one));
  return (
    <>
      <Section
        title={
          tieIns.zone === null ? words.tieIns : `${words.tieIns}: ${words.zone.toLowerCase()} ${tieIns.zone}`
        }
      >
        {decided.any && (
          <div className="row" data-testid="decided">
            <p>
              {decided.tieIn ? `${words.chosenTitle}: ` : words.byHand}
              {decided.tieIn && <strong>{decided.tieIn.id}</strong>}
            </p>
            <button type="button" onClick={back}>
              {words.takeBack}
            </button>
          </div>
        )}
        <p className="quiet-text">{words.tieInsText}</p>
        <ol className="tie-ins">{first.map(item)}</ol>
        {rest.length > 0 && (
          <details className="calculator" open={rest.some(({ tieIn }) => tieIn === looked) || undefined}>
            <summary>{words.more(rest.length)}</summary>
            <ol className="tie-ins">{rest.map(item)}</ol>
          </details>
        )}
        <TieInNotices tieIns={tieIns} />
        {words.cautions.map((text) => (
          <p key={text} className="field-note">
            {text}
          </p>
        ))}
      </Section>
      {decided.any && <Worklist plan={plan} tieIns={tieIns} decided={decided} />}
    </>
  );
}

interface ItemProps {
  readonly tieIn: TieIn;
  readonly rank: number;
  readonly looked: boolean;
  readonly chosen: boolean;
  onLook(): void;
  onUse(): void;
}

function TieInItem({ tieIn, rank, looked, chosen, onLook, onUse }: ItemProps): ReactElement {
  const words = useWords().decide;
  const units = useEditorState((state) => state.units);
  const figures: readonly (readonly [string, string])[] = [
    [
      words.deadLeg,
      `${formatQuantity('length', tieIn.deadLegLengthM, units)}${tieIn.deadLegVolumeL === null ? '' : `, ${smallVolume(tieIn.deadLegVolumeL, units)}`}`,
    ],
    [
      words.stays,
      tieIn.stagnantVolumeL === null ? words.notKnown : smallVolume(tieIn.stagnantVolumeL, units),
    ],
    [
      words.drains,
      tieIn.drains === null
        ? words.notKnown
        : tieIn.drains
          ? words.yes
          : tieIn.trappedVolumeL
            ? `${words.trapped} ${smallVolume(tieIn.trappedVolumeL, units)}`
            : words.no,
    ],
    [
      words.pressure,
      tieIn.pressureKpa === null ? words.notKnown : formatQuantity('pressure', tieIn.pressureKpa, units),
    ],
    [
      words.distance,
      tieIn.distanceToBedM === null
        ? words.notKnown
        : tieIn.distanceToBedM === 0
          ? words.inBed
          : formatQuantity('length', tieIn.distanceToBedM, units),
    ],
  ];
  return (
    <li>
      <button
        type="button"
        className="tie-in"
        aria-pressed={looked}
        data-testid={`tie-in-${tieIn.id}`}
        onClick={onLook}
      >
        <span className="tie-in-head">
          {rank}. <strong>{tieIn.id}</strong>
          {chosen && <span className="chip">{words.chosen}</span>}
        </span>
        <span className="tie-in-why">{tieIn.why}</span>
      </button>
      {looked && (
        <div className="working">
          <dl className="figures">
            {figures.map(([name, value]) => (
              <div key={name}>
                <dt>{name}</dt>
                <dd>{value}</dd>
              </div>
            ))}
          </dl>
          <div className="row">
            <button type="button" className="primary" data-testid="use-tie-in" onClick={onUse}>
              {words.use}
            </button>
            <button type="button" className="quiet" onClick={onLook}>
              {words.hide}
            </button>
          </div>
        </div>
      )}
    </li>
  );
}

/** What the ranking has to say besides: pieces apart, parts assumed, a limit reached. */
function TieInNotices({ tieIns }: { readonly tieIns: ZoneTieIns }): ReactElement | null {
  if (tieIns.notices.length === 0) return null;
  return (
    <ul className="plain-list">
      {tieIns.notices.map(({ message }, i) => (
        <li key={i}>{message}</li>
      ))}
    </ul>
  );
}
