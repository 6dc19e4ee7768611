import type { ReactElement } from 'react';
import { formatQuantity } from '../../base/quantity.ts';
import { PIPE_BORES, PIPE_SIZES } from '../../catalog/index.ts';
import { boreOf, litresIn, nominalSize, pipeMaterial } from '../../derive/existing/index.ts';
import { lateralsOf } from '../../derive/existing/lateral/index.ts';
import { groundOf } from '../../derive/ground/index.ts';
import { shownPlan } from '../../editor/index.ts';
import { change, type LateralFields } from '../../plan/edits/index.ts';
import type { LateralFate, LateralPipe, Plan } from '../../plan/records.ts';
import { useEditor, useEditorState } from '../services.ts';
import { useWords } from '../words/index.ts';
import { alike } from './alike.ts';
import { AlikeChoice, AlikeOptional, AlikeQuantity, AlikeText } from './alike-fields.tsx';
import { Figures } from './Figures.tsx';

const MATERIALS = [...new Set(PIPE_BORES.map((bore) => bore.material))];
const FATES: readonly LateralFate[] = ['undecided', 'live', 'dead', 'cut off'];

interface Props {
  readonly pipes: readonly LateralFields[];
  set(fields: Partial<LateralFields>): void;
  readonly zoneEmpty: string;
}

/** What is known of old pipe besides where it lies. */
function PipeFields({ pipes, set, zoneEmpty }: Props): ReactElement {
  const words = useWords();
  const sources = new Set(pipes.map(({ size, material }) => boreOf(size, material)?.source));
  const [source] = sources;
  return (
    <>
      <AlikeOptional
        label={words.fields.size}
        of={alike(pipes, ({ size }) => (size === null ? null : nominalSize(size)))}
        options={PIPE_SIZES.map((size) => ({ value: size, label: `${size} ${words.service.inch}` }))}
        onChange={(size) => set({ size })}
      />
      <AlikeOptional
        label={words.fields.material}
        of={alike(pipes, ({ material }) => (material === null ? null : (pipeMaterial(material) ?? material)))}
        options={MATERIALS.map((material) => ({ value: material, label: material }))}
        hint={sources.size === 1 ? source : undefined}
        onChange={(material) => set({ material })}
      />
      <AlikeQuantity
        label={words.heads.pipe.depth}
        kind="spacing"
        of={alike(pipes, ({ depthM }) => depthM)}
        max={3}
        onChange={(depthM) => set({ depthM })}
      />
      <AlikeChoice
        label={words.heads.pipe.found}
        of={alike(pipes, ({ measured }) => (measured ? 'measured' : 'assumed'))}
        options={(['measured', 'assumed'] as const).map((value) => ({
          value,
          label: words.heads.pipe[value],
        }))}
        onChange={(value) => set({ measured: value === 'measured' })}
      />
      <AlikeText
        label={words.heads.zone}
        of={alike(pipes, ({ zone }) => zone)}
        placeholder={zoneEmpty}
        onChange={(zone) => set({ zone })}
      />
    </>
  );
}

/** What the next piece of old pipe will be like. */
export function LateralChoices(): ReactElement {
  const editor = useEditor();
  const words = useWords().heads;
  const lateral = useEditorState((state) => state.choices.lateral);
  return (
    <>
      <PipeFields
        pipes={[lateral]}
        zoneEmpty={words.zoneOfValve}
        set={(fields) => editor.setChoices({ lateral: { ...lateral, ...fields } })}
      />
      <p className="field-note">{words.pipe.digging}</p>
    </>
  );
}

/** The joint at an end of a pipe in words: its name, and what would be found when it is dug up. */
function jointWords(plan: Plan, pipe: LateralPipe, end: 'from' | 'to', nameless: string): string {
  const joint = lateralsOf(plan)
    .flatMap(({ joints }) => joints)
    .find(({ ends }) => ends.some((one) => one.lateralId === pipe.id && one.end === end));
  return [pipe[end] || nameless, joint?.text].filter(Boolean).join(': ');
}

/** The chosen pieces of old pipe: all facts of one, or what several have in common. */
export function LateralForm({ record }: { readonly record: LateralPipe }): ReactElement {
  const editor = useEditor();
  const words = useWords();
  const units = useEditorState((state) => state.units);
  const selection = useEditorState((state) => state.selection);
  // As they are while an end is dragged.
  const plan = useEditorState(shownPlan);
  const ids = selection.map((ref) => ref.id);
  const chosen = ids.flatMap((id) => plan.laterals.get(id) ?? []);
  const pipes = chosen.length ? chosen : [record];
  const set = (fields: Partial<LateralFields>) =>
    editor.commit(
      change(
        'Change old pipe',
        'laterals',
        pipes.map(({ id }) => id),
        fields,
      ),
    );
  const ground = groundOf(plan);
  const lengthM = pipes.reduce((sum, { a, b }) => sum + ground.surfaceLength([a, b]), 0);
  const litres = pipes.map(({ a, b, size, material }) => {
    const bore = boreOf(size, material);
    return bore && litresIn(bore.innerDiameterMm, ground.surfaceLength([a, b]));
  });
  const known = litres.every((one) => one !== null);
  return (
    <>
      <PipeFields pipes={pipes} set={set} zoneEmpty={words.heads.zoneEmpty} />
      <AlikeChoice
        label={words.heads.pipe.fate}
        of={alike(pipes, ({ fate }) => fate)}
        options={FATES.map((value) => ({ value, label: words.heads.pipe.fates[value] }))}
        onChange={(fate) => set({ fate })}
      />
      <Figures
        rows={[
          [words.select.length, formatQuantity('length', lengthM, units)],
          [
            words.heads.pipe.litres,
            known
              ? formatQuantity(
                  'volume',
                  litres.reduce((sum, one) => sum + one, 0),
                  units,
                )
              : words.heads.pipe.noBore,
          ],
          ...(pipes.length === 1
            ? ([
                [words.heads.pipe.from, jointWords(plan, pipes[0]!, 'from', words.heads.pipe.nameless)],
                [words.heads.pipe.to, jointWords(plan, pipes[0]!, 'to', words.heads.pipe.nameless)],
              ] as const)
            : []),
        ]}
      />
    </>
  );
}
