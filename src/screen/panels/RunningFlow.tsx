import { useMemo, type ReactElement } from 'react';
import { formatQuantity } from '../../base/quantity.ts';
import { flowCheckOf } from '../../derive/existing/flow-check.ts';
import type { Supply } from '../../plan/records.ts';
import { QuantityField } from '../fields/QuantityField.tsx';
import { useEditorState } from '../services.ts';
import { useWords } from '../words/index.ts';
import { Figures } from './Figures.tsx';
import { FlowCalculator } from './FlowCalculator.tsx';
import { HowField, MOST_LPH } from './WorkingPoints.tsx';

interface Props {
  readonly record: Supply;
  set(fields: Partial<Omit<Supply, 'id'>>): void;
}

/** What a zone's sprays were measured to draw, how, and what that says beside the sum of its heads. */
export function RunningFlow({ record, set }: Props): ReactElement {
  const words = useWords().service;
  const water = useEditorState((state) => state.history.plan.water);
  const staticKpa = record.pressureKpa ?? water.staticKpa;
  return (
    <>
      <QuantityField
        label={words.running}
        kind="zoneFlow"
        value={record.runningFlowLph}
        nullable
        max={MOST_LPH}
        hint={words.runningHint}
        onChange={(runningFlowLph) =>
          set(runningFlowLph === null ? { runningFlowLph, runningFlowHow: null } : { runningFlowLph })
        }
      />
      {record.runningFlowLph !== null && (
        <HowField
          label={words.how}
          value={record.runningFlowHow}
          onChange={(runningFlowHow) => set({ runningFlowHow })}
        />
      )}
      <FlowCalculator
        gauge="curve"
        water={water}
        staticKpa={staticKpa}
        onUse={({ flowLph, how }) => set({ runningFlowLph: flowLph, runningFlowHow: how })}
      />
      <FlowCheckFigures supplyId={record.id} />
    </>
  );
}

/** The measured flow beside the sum of the zone's heads, and what a difference means. */
export function FlowCheckFigures({ supplyId }: { readonly supplyId: string }): ReactElement | null {
  const words = useWords().service;
  const units = useEditorState((state) => state.units);
  const heads = useEditorState((state) => state.history.plan.heads);
  const laterals = useEditorState((state) => state.history.plan.laterals);
  const supplies = useEditorState((state) => state.history.plan.supplies);
  const water = useEditorState((state) => state.history.plan.water);
  const check = useMemo(
    () => flowCheckOf({ heads, laterals, supplies, water }).find((one) => one.supplyId === supplyId),
    [heads, laterals, supplies, water, supplyId],
  );
  if (!check) return null;
  const percent = formatQuantity('percent', Math.abs(check.differencePercent), units);
  return (
    <div className="working" data-testid="flow-check" title={check.source}>
      <Figures
        rows={[
          [words.measuredFlow, formatQuantity('zoneFlow', check.measuredLph, units)],
          [words.headsFlow, formatQuantity('zoneFlow', check.headsLph, units)],
          [words.difference, `${check.differencePercent < 0 ? '−' : '+'}${percent}`],
        ]}
      />
      <p className="advice" {...(check.verdict === 'agrees' ? {} : { 'data-severity': 'warning' })}>
        {check.meaning}
      </p>
      <p className="field-note">{check.source}</p>
    </div>
  );
}
