import { useEffect, useMemo, useState, type ReactElement } from 'react';
import { formatQuantity } from '../../../base/quantity.ts';
import { freezes } from '../../../derive/checks/low-point-drains.ts';
import { groundOf } from '../../../derive/index.ts';
import { BAND_RISE_M, BANDS_SOURCE, type AdvisedPart } from '../../../derive/slopes/index.ts';
import { bedSlope } from '../../../derive/soil/bed-slope.ts';
import type { Advice } from '../../../editor/index.ts';
import { headToKpa } from '../../../hydraulics/index.ts';
import { bandsOf, splitEdit, type Bands } from '../../../layout/bands/index.ts';
import type { Area, Plan } from '../../../plan/records.ts';
import { QuantityField } from '../../fields/QuantityField.tsx';
import { useEditor, useEditorState } from '../../services.ts';
import { useWords } from '../../words/index.ts';
import { Figures, Section } from '../Figures.tsx';
import { AdvisedList, useAdvised } from './AdvisedList.tsx';
import { BandTable } from './BandTable.tsx';

/** How the chosen bed slopes, its bands, and what is advised on it. Nothing while no bed is chosen. */
export function SlopeCard(): ReactElement | null {
  const plan = useEditorState((state) => state.history.plan);
  const selection = useEditorState((state) => state.selection);
  // Kept while other beds are chosen: those of one slope are mostly split alike.
  const [mostM, setMost] = useState<number | null>(null);
  const [first] = selection;
  const bed = selection.length === 1 && first?.table === 'areas' ? plan.areas.get(first.id) : null;
  if (bed?.use !== 'bed') return null;
  return groundOf(plan).knows === 'slope' ? (
    <BedSlopeCard key={bed.id} plan={plan} bed={bed} mostM={mostM} onMost={setMost} />
  ) : (
    <NoHeights />
  );
}

function NoHeights(): ReactElement {
  const editor = useEditor();
  const words = useWords().slopes;
  return (
    <Section title={words.title}>
      <p className="advice">{words.none}</p>
      <div className="row">
        <button type="button" onClick={() => editor.show('survey')}>
          {words.toSurvey}
        </button>
      </div>
    </Section>
  );
}

interface Props {
  readonly plan: Plan;
  readonly bed: Area;
  readonly mostM: number | null;
  onMost(mostM: number | null): void;
}

function BedSlopeCard({ plan, bed, mostM, onMost }: Props): ReactElement {
  const editor = useEditor();
  const words = useWords().slopes;
  const units = useEditorState((state) => state.units);
  // Ground and outline only: plants and runs that come and go do not count.
  const { areas, levels, falls } = plan;
  const found = useMemo(
    () => bandsOf({ areas, levels, falls }, bed.id, { riseM: mostM }),
    [areas, levels, falls, bed.id, mostM],
  );
  const whole = useMemo(
    () => bandsOf({ areas, levels, falls }, bed.id, { riseM: Infinity }),
    [areas, levels, falls, bed.id],
  );
  const slope = bedSlope(plan, bed.id);
  const advised = useAdvised(plan, bed.id);
  const [looked, look] = useState<AdvisedPart | null>(null);
  const bands = found.ok ? found.value : null;
  const count = bands?.bands.length ?? 0;
  const advice = useMemo((): Advice | null => {
    const signs = (advised?.parts ?? []).map((part) => ({
      at: part.at,
      kind: part.kind,
      marked: part === looked,
    }));
    const lines = bands?.lines ?? [];
    return lines.length + signs.length > 0 ? { lines, signs } : null;
  }, [bands, advised, looked]);
  useEffect(() => {
    editor.setAdvice(advice);
    return () => editor.setAdvice(null);
  }, [editor, advice]);

  const length = (m: number) => formatQuantity('length', m, units);
  if (!whole.ok) {
    return (
      <Section title={words.title}>
        <p className="quiet-text">
          {whole.problem.what}. {whole.problem.todo}.
        </p>
      </Section>
    );
  }
  const { riseM, isOutside } = whole.value;
  const split = () => {
    if (!bands) return;
    editor.preview(null);
    editor.commit(splitEdit(bed.id, bands));
    editor.say(words.splitDone(bands.bands.reduce((sum, { parts }) => sum + parts.length, 0)));
  };
  return (
    <Section title={words.title}>
      <Figures
        rows={[
          [words.rise, length(riseM)],
          ...(slope
            ? ([
                [words.mean, formatQuantity('slope', slope.meanPercent, units)],
                [words.steepest, formatQuantity('slope', slope.steepestPercent, units)],
              ] as const)
            : []),
          [words.lift, formatQuantity('pressure', headToKpa(riseM), units), words.liftHint],
        ]}
      />
      {isOutside && <p className="field-note">{words.outside}</p>}
      <QuantityField
        label={words.most}
        kind="length"
        value={mostM}
        nullable
        min={0.1}
        max={100}
        empty={words.usual(length(BAND_RISE_M))}
        hint={BANDS_SOURCE}
        onChange={onMost}
      />
      {!found.ok && (
        <p className="advice" role="alert">
          {found.problem.what}. {found.problem.todo}.
        </p>
      )}
      {bands && count < 2 && <p className="quiet-text">{words.oneBand(length(riseM))}</p>}
      {count > 1 && mostM === null && riseM <= BAND_RISE_M && (
        <p className="field-note">{words.mild(length(BAND_RISE_M))}</p>
      )}
      {bands && count > 1 && (
        <SplitPart plan={plan} bed={bed} bands={bands} onSplit={split} frost={freezes(plan)} />
      )}
      <AdvisedList plan={plan} advised={advised} onLook={look} />
    </Section>
  );
}

function SplitPart({
  plan,
  bed,
  bands,
  frost,
  onSplit,
}: {
  readonly plan: Plan;
  readonly bed: Area;
  readonly bands: Bands;
  readonly frost: boolean;
  onSplit(): void;
}): ReactElement {
  const words = useWords().slopes;
  const fills = [...plan.fills].filter((fill) => fill.kind === 'bed' && fill.areaId === bed.id);
  const rows = fills.some(({ byHand }) => !byHand) ? 'live' : fills.length > 0 ? 'byHand' : 'none';
  return (
    <>
      <BandTable bands={bands.bands} />
      <p className="field-note" title={BANDS_SOURCE}>
        {words.each(frost)} {words.splitNote[rows]}
      </p>
      <div className="row">
        <button type="button" data-testid="slope-split" onClick={onSplit}>
          {words.split}
        </button>
      </div>
    </>
  );
}
