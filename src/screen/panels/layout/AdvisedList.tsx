import { useDeferredValue, useMemo, useState, type ReactElement } from 'react';
import { formatQuantity } from '../../../base/quantity.ts';
import { advisedEdit, advisedOf, type Advised, type AdvisedPart } from '../../../derive/slopes/index.ts';
import { advisedIn, hasTubing, runsOfBed } from '../../../layout/bands/index.ts';
import { changePart } from '../../../plan/edits/index.ts';
import type { Plan } from '../../../plan/records.ts';
import { QuantityField } from '../../fields/QuantityField.tsx';
import { useEditor, useEditorState } from '../../services.ts';
import { useWords } from '../../words/index.ts';

/** Up to so many outlets what is advised is looked for at once; with more it takes a moment, and waits to be asked for. */
const AT_ONCE = 3000;
/** Lines of the list; with more the rest is counted. */
const MOST_SHOWN = 20;

export interface BedAdvised extends Advised {
  /** Whether any tubing lies in the bed. */
  readonly hasTubing: boolean;
  /** False while it waits to be asked for. */
  readonly isKnown: boolean;
  ask(): void;
}

/** What is advised for the tubing of a bed; what an edit changes of it follows once the edit itself is shown. */
export function useAdvised(current: Plan, areaId: string): BedAdvised {
  const plan = useDeferredValue(current);
  const isMuch = useEditorState((state) => (state.answer?.results.outletCount ?? 0) > AT_ONCE);
  const [asked, setAsked] = useState(false);
  const isKnown = asked || !isMuch;
  return useMemo(() => {
    const all = isKnown ? advisedOf(plan) : null;
    const own = runsOfBed(plan, areaId);
    return {
      parts: advisedIn(plan, areaId, all?.parts ?? []),
      against: (all?.against ?? []).filter((id) => own.has(id)),
      apart: (all?.apart ?? []).filter((id) => own.has(id)),
      hasTubing: hasTubing(plan, areaId),
      isKnown,
      ask: () => setAsked(true),
    };
  }, [plan, areaId, isKnown]);
}

interface Props {
  readonly plan: Plan;
  readonly advised: BedAdvised;
  /** The part that the pointer or the keyboard is on. */
  onLook(part: AdvisedPart | null): void;
}

/** Parts that are advised with their reasons, to be set one by one or all at once. */
export function AdvisedList({ plan, advised, onLook }: Props): ReactElement {
  const editor = useEditor();
  const words = useWords().slopes;
  const units = useEditorState((state) => state.units);
  const { parts, against, apart, isKnown, ask } = advised;
  const nameOf = (runId: string) => plan.runs.get(runId)?.name.trim() || runId;
  const set = (some: readonly AdvisedPart[]) => {
    onLook(null);
    editor.commit(advisedEdit(some));
    editor.say(words.setDone(some.length));
  };
  if (!advised.hasTubing) return <p className="quiet-text">{words.noRuns}</p>;
  return (
    <>
      <h3 className="advised-title">{words.advised}</h3>
      {!isKnown && (
        <div className="row">
          <button type="button" onClick={ask}>
            {words.look}
          </button>
        </div>
      )}
      {apart.length > 0 && <p className="advice">{words.apart}</p>}
      {isKnown && parts.length === 0 && apart.length === 0 && <p className="quiet-text">{words.allSet}</p>}
      {parts.length > 0 && (
        <>
          <ul className="advised" data-testid="slope-advised">
            {parts.slice(0, MOST_SHOWN).map((part) => (
              <li
                key={`${part.kind} ${part.runId} ${part.at.join(' ')}`}
                onPointerEnter={() => onLook(part)}
                onPointerLeave={() => onLook(null)}
              >
                <span>
                  <strong>{words.kinds[part.kind]}</strong>{' '}
                  {words.reason(
                    part,
                    nameOf(part.runId),
                    formatQuantity('length', Math.abs(part.heightM), units),
                  )}
                </span>
                <button
                  type="button"
                  aria-label={words.setOne(words.kinds[part.kind], nameOf(part.runId))}
                  onFocus={() => onLook(part)}
                  onBlur={() => onLook(null)}
                  onClick={() => set([part])}
                >
                  {words.set}
                </button>
              </li>
            ))}
          </ul>
          {parts.length > MOST_SHOWN && <p className="field-note">{words.more(parts.length - MOST_SHOWN)}</p>}
        </>
      )}
      {against.length > 0 && <p className="field-note">{words.against(against.map(nameOf).join(', '))}</p>}
      <QuantityField
        label={words.winter}
        kind="temperature"
        value={plan.climate.lowestWinterC}
        nullable
        min={-60}
        max={40}
        hint={words.winterHint}
        onChange={(lowestWinterC) =>
          editor.commit(changePart(words.winterLabel, 'climate', { lowestWinterC }))
        }
      />
      {parts.length > 0 && (
        <div className="row">
          <button
            type="button"
            className="primary"
            data-testid="slope-set"
            title={words.source}
            onClick={() => set(parts)}
          >
            {words.setAll}
          </button>
        </div>
      )}
      <p className="field-note">{words.caution}</p>
    </>
  );
}
