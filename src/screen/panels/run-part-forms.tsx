import type { ReactElement } from 'react';
import { formatQuantity } from '../../base/quantity.ts';
import { CHECK_VALVE } from '../../catalog/index.ts';
import { alongRunM } from '../../derive/along-run.ts';
import type { CheckValve, FlushEnd, LinePart } from '../../plan/records.ts';
import { useEditorState } from '../services.ts';
import { useWords } from '../words/index.ts';
import { alike } from './alike.ts';
import { AlikeQuantity } from './alike-fields.tsx';
import { Figures } from './Figures.tsx';

/** A run's name with its id. */
function useRunName(runId: string): string {
  const name = useEditorState((state) => state.history.plan.runs.get(runId)?.name);
  return name ? `${name} (${runId})` : runId;
}

/** How far along its run a part sits, on the ground. */
function useAlong(part: Pick<CheckValve, 'runId' | 'at'>): string {
  const plan = useEditorState((state) => state.history.plan);
  const units = useEditorState((state) => state.units);
  const alongM = alongRunM(plan, part);
  return alongM === null ? '–' : formatQuantity('length', alongM, units);
}

/** The run of a check valve, its place there and the pressure that opens it. */
export function CheckValveForm({
  record,
  set,
}: {
  readonly record: CheckValve;
  set(fields: Partial<Omit<CheckValve, 'id'>>): void;
}): ReactElement {
  const words = useWords();
  const plan = useEditorState((state) => state.history.plan);
  const selection = useEditorState((state) => state.selection);
  const chosen = selection.flatMap(({ table, id }) =>
    table === 'checkValves' ? (plan.checkValves.get(id) ?? []) : [],
  );
  const run = useRunName(record.runId);
  const along = useAlong(record);
  return (
    <>
      <AlikeQuantity
        label={words.fields.opens}
        kind="pressure"
        of={alike(chosen.length ? chosen : [record], ({ openKpa }) => openKpa)}
        max={200}
        hint={CHECK_VALVE.source}
        onChange={(openKpa) => openKpa !== null && set({ openKpa })}
      />
      <Figures
        rows={[
          [words.fields.run, run],
          [words.fields.fromStart, along],
        ]}
      />
    </>
  );
}

/** The run of a flush end, and which of its ends it is. */
export function FlushEndForm({ record }: { readonly record: FlushEnd }): ReactElement {
  const words = useWords();
  const run = useRunName(record.runId);
  return (
    <Figures
      rows={[
        [words.fields.run, run],
        [words.fields.end, words.ends[record.end]],
      ]}
    />
  );
}

/** Kind, run and place of a part at a high or low place. */
export function LinePartForm({ record }: { readonly record: LinePart }): ReactElement {
  const words = useWords();
  const run = useRunName(record.runId);
  const along = useAlong(record);
  return (
    <Figures
      rows={[
        [words.fields.partKind, words.lineParts[record.kind]],
        [words.fields.run, run],
        [words.fields.fromStart, along],
      ]}
    />
  );
}
