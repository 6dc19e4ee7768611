import { describe, expect, test } from 'vitest';
import { PIPE_BORES } from '../../catalog/pipes.ts';
import { boreOf, nominalSize, pipeMaterial } from './pipe-bore.ts';

describe('nominal sizes', () => {
  test.each([
    ['3/4', '3/4'],
    ['0.75', '3/4'],
    ['.75"', '3/4'],
    ['1-1/2', '1-1/2'],
    ['1 1/2', '1-1/2'],
    ['1.5', '1-1/2'],
    ['1,5', '1-1/2'],
    ['1-1/2 in', '1-1/2'],
    ['1 1/2 inch', '1-1/2'],
    ['1\u00bd"', '1-1/2'],
    ['1', '1'],
    ['1.0 in.', '1'],
    ['2/4', '1/2'],
    ['5/8', '5/8'],
  ])('%s is %s', (written, nominal) => {
    expect(nominalSize(written)).toBe(nominal);
  });

  test.each(['25 mm', 'small', '', '0', '1/0', '0.7'])('%j stays as written', (written) => {
    expect(nominalSize(written)).toBe(written);
  });

  test('the sizes of the catalog are their own nominal sizes', () => {
    for (const { size } of PIPE_BORES) expect(nominalSize(size)).toBe(size);
  });
});

describe('materials', () => {
  test.each([
    ['PVC Class 200', 'PVC Class 200'],
    ['class 200 pvc', 'PVC Class 200'],
    ['PVC CL200', 'PVC Class 200'],
    ['Sch 40 PVC', 'PVC Schedule 40'],
    ['PVC Schedule 40', 'PVC Schedule 40'],
    ['poly pipe', 'polyethylene'],
    ['PE', 'polyethylene'],
    ['HDPE', 'polyethylene'],
    ['Copper type L', 'copper'],
    ['galvanized steel', 'galvanised steel'],
    ['PVC', null],
    ['PVC Schedule 80', null],
    ['clay', null],
  ])('%s means %s', (written, material) => {
    expect(pipeMaterial(written)).toBe(material);
  });

  test('the materials of the catalog are understood', () => {
    for (const { material } of PIPE_BORES) expect(pipeMaterial(material)).toBe(material);
  });
});

test('a bore needs size and material, both known', () => {
  expect(boreOf('3/4 in', 'Class 200')?.innerDiameterMm).toBeCloseTo(23.622, 3);
  expect(boreOf('1-1/2', 'copper')?.innerDiameterMm).toBeCloseTo(38.227, 3);
  expect(boreOf(null, 'copper')).toBeNull();
  expect(boreOf('3/4', null)).toBeNull();
  expect(boreOf('3/4', 'PVC')).toBeNull();
  expect(boreOf('9', 'copper')).toBeNull();
});
