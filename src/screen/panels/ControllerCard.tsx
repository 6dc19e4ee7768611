import type { ReactElement } from 'react';
import { changePart } from '../../plan/edits/index.ts';
import type { Controller } from '../../plan/records.ts';
import { QuantityField } from '../fields/QuantityField.tsx';
import { useEditor, useEditorState } from '../services.ts';
import { useWords } from '../words/index.ts';
import { Section } from './Figures.tsx';
import { NightWindow } from './NightWindow.tsx';

/** Minutes of one run and days between runs that drip may want; see the words for their sources. */
const WANTED_RUN_MIN = 120;
const WANTED_INTERVAL_DAYS = 14;
const WANTED_STARTS = 3;

/** What the irrigation controller can do, held against what drip wants. */
export function ControllerCard(): ReactElement {
  const editor = useEditor();
  const words = useWords().service.controller;
  const controller = useEditorState((state) => state.history.plan.controller);
  const field = (name: Exclude<keyof Controller, 'nightWindow'>, max: number, hint?: string) => (
    <QuantityField
      label={words[name]}
      kind="count"
      value={controller[name]}
      nullable
      max={max}
      empty={words.unknown}
      {...(hint === undefined ? {} : { hint })}
      onChange={(value) => editor.commit(changePart('Change controller', 'controller', { [name]: value }))}
    />
  );
  const short = (value: number | null, wanted: number) => value !== null && value < wanted;
  const advice = [
    short(controller.longestRunMin, WANTED_RUN_MIN) ? words.shortRun : '',
    short(controller.startsPerDay, WANTED_STARTS) ? words.fewStarts : '',
    short(controller.longestIntervalDays, WANTED_INTERVAL_DAYS) ? words.shortInterval : '',
    controller.freeStations === 0 ? words.noStation : '',
  ].filter(Boolean);
  return (
    <Section id="survey-controller" title={words.title}>
      {field('longestRunMin', 10_000)}
      {field('startsPerDay', 1000)}
      {field('longestIntervalDays', 366)}
      {field('freeStations', 1000)}
      <NightWindow />
      {advice.map((text) => (
        <p key={text} className="advice">
          {text}
        </p>
      ))}
      <p className="field-note">{words.caution}</p>
    </Section>
  );
}
