import { describe, expect, test } from 'vitest';
import { Table } from '../base/table.ts';
import { PSI_KPA } from '../base/units.ts';
import { UNMEASURED_SUPPLY } from '../plan/empty.ts';
import type { ControlSet, Supply } from '../plan/records.ts';
import { CONTROL_SYMBOL, controlMarks, settingWords, SUPPLY_SYMBOL, supplyMarks } from './equipment.ts';
import type { SymbolMark, TextMark } from './marks.ts';

const control: ControlSet = {
  id: 'C1',
  name: 'Set A',
  at: [2, 3],
  filter: 'screen-155',
  regulator: 'window-0.1-8',
  setKpa: 25 * PSI_KPA,
};
const supply: Supply = {
  ...UNMEASURED_SUPPLY,
  id: 'V1',
  name: 'Valve',
  at: [2, 3.009],
};

describe('what a control set says', () => {
  test('set pressure and mesh, in the units of the sheet', () => {
    expect(settingWords(control, 'us')).toBe('25 psi, 150 mesh');
    expect(settingWords({ ...control, setKpa: 172.4 }, 'metric')).toBe('1.72 bar, 150 mesh');
    expect(settingWords({ ...control, setKpa: 12.5 * PSI_KPA, filter: 'own mesh' }, 'us')).toBe(
      '12.5 psi, own mesh',
    );
  });

  test('stands under its name, or in its place without one', () => {
    const textsOf = (set: ControlSet): TextMark[] =>
      controlMarks(Table.of([set]), Table.of<Supply>(), 'us').filter((mark) => mark.kind === 'text');
    const [name, setting] = textsOf(control);
    expect([name!.text, setting!.text]).toEqual(['Set A', '25 psi, 150 mesh']);
    expect(setting!.shiftMm![1]).toBeGreaterThan(name!.shiftMm![1] + setting!.sizeMm);
    const [alone] = textsOf({ ...control, name: '' });
    expect(alone).toMatchObject({ text: '25 psi, 150 mesh', shiftMm: name!.shiftMm });
  });
});

describe('a control set on a supply', () => {
  const symbolsOf = (at: ControlSet['at']): SymbolMark[] =>
    controlMarks(Table.of([{ ...control, at }]), Table.of([supply]), 'us').filter(
      (mark) => mark.kind === 'symbol',
    );

  test('is drawn beside it, joined by a line that touches both', () => {
    const [link, set] = symbolsOf([2, 3]);
    expect([link!.name, set!.name]).toEqual(['link', 'control']);
    const edge = SUPPLY_SYMBOL.sizeMm / 2;
    const middle = link!.shiftMm![0];
    expect(middle - link!.sizeMm / 2).toBeCloseTo(edge, 9);
    expect(set!.shiftMm![0] - CONTROL_SYMBOL.sizeMm / 2).toBeCloseTo(middle + link!.sizeMm / 2, 9);
  });

  test('farther than a centimetre away it stands where it is', () => {
    const symbols = symbolsOf([2.01, 3.02]);
    expect(symbols.map(({ name }) => name)).toEqual(['control']);
    expect(symbols[0]!.shiftMm).toBeUndefined();
  });

  test('their names keep clear of each other', () => {
    const textOf = (marks: ReturnType<typeof supplyMarks>): TextMark =>
      marks.find((mark) => mark.kind === 'text')!;
    const valve = textOf(supplyMarks(Table.of([supply]), Table.of([control])));
    const set = textOf(controlMarks(Table.of([control]), Table.of([supply]), 'us'));
    expect([valve.anchor, set.anchor]).toEqual(['end', 'start']);
    expect(set.shiftMm![0]).toBeGreaterThan(valve.shiftMm![0]);
  });
});
