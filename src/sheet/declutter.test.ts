import { describe, expect, test } from 'vitest';
import type { Layer, Mark, SymbolMark, TextMark } from '../drawing/marks.ts';
import { decluttered } from './declutter.ts';
import { markParts, overlap, partBox } from './projection.ts';

const VIEW = { window: { x: 0, y: 0, w: 0, h: 0 }, mmPerMetre: 10, middle: [0, 0] } as const;

function label(text: string, x: number, more: Partial<TextMark> = {}): TextMark {
  return {
    kind: 'text',
    owner: `plants/${text}`,
    at: [x, 0],
    text,
    sizeMm: 2.5,
    ink: 'line',
    anchor: 'middle',
    ...more,
  };
}

function layersOf(...marks: Mark[]): Layer[] {
  return [{ name: 'labels', marks }];
}

const meet = (a: Mark, b: Mark): boolean =>
  overlap(partBox(markParts(a, VIEW)[0]!)!, partBox(markParts(b, VIEW)[0]!)!);

describe('lettering set for a scale', () => {
  test('texts on each other are moved apart; the more important one stays', () => {
    const small = label('creeping thyme', 0);
    const bold = label('Round bed', 0.1, { bold: true });
    expect(meet(small, bold)).toBe(true);
    const [layer] = decluttered(layersOf(small, bold), 10);
    const [movedSmall, movedBold] = layer!.marks as [TextMark, TextMark];
    expect(meet(movedSmall, movedBold)).toBe(false);
    expect(movedBold).toBe(bold);
    expect(movedSmall).toEqual({ ...small, shiftMm: movedSmall.shiftMm });
  });

  test('texts that are clear of each other stay as they are', () => {
    const layers = layersOf(label('a', 0), label('b', 5));
    expect(decluttered(layers, 10)).toEqual(layers);
  });

  test('a text steps off a valve symbol', () => {
    const valve: SymbolMark = { kind: 'symbol', name: 'supply', at: [0, 0], sizeMm: 4 };
    const [layer] = decluttered(layersOf(valve, label('V1', 0)), 10);
    expect(layer!.marks[0]).toBe(valve);
    const text = layer!.marks[1]!;
    for (const part of markParts(valve, VIEW)) {
      expect(overlap(partBox(part)!, partBox(markParts(text, VIEW)[0]!)!)).toBe(false);
    }
  });

  test('a name and the figure below it move as one', () => {
    const name = label('Bed', 0, { owner: 'areas/b' });
    const size = label('12 m²', 0, { owner: 'areas/b', shiftMm: [0, 3] });
    const other = label('LARGE', 0, { sizeMm: 4, bold: true });
    const [layer] = decluttered(layersOf(name, size, other), 10);
    const [movedName, movedSize] = layer!.marks as [TextMark, TextMark];
    expect(movedName.shiftMm).toBeDefined();
    expect(movedSize.shiftMm![0] - 0).toBeCloseTo(movedName.shiftMm![0], 9);
    expect(movedSize.shiftMm![1] - 3).toBeCloseTo(movedName.shiftMm![1], 9);
  });

  test('texts that may drop give way to all others and go where there is no room', () => {
    const tags = Array.from({ length: 20 }, (_, i) => label(`P${i}`, i * 0.02, { mayDrop: true }));
    const kept = label('P20', 0.1, { sizeMm: 1.6 });
    const [layer] = decluttered(layersOf(...tags, kept), 10);
    const texts = layer!.marks as TextMark[];
    expect(texts).toContain(kept);
    expect(texts.length).toBeGreaterThan(1);
    expect(texts.length).toBeLessThan(20);
  });

  test('a crowd keeps all its texts', () => {
    const crowd = Array.from({ length: 40 }, (_, i) => label(`plant ${i}`, i * 0.02));
    const [layer] = decluttered(layersOf(...crowd), 10);
    expect(layer!.marks.map((mark) => (mark as TextMark).text)).toEqual(crowd.map(({ text }) => text));
  });
});

describe('lettering that belongs to one place', () => {
  const side = (fitM: number, more: Partial<TextMark> = {}): TextMark =>
    label('4.00 m', 0, { owner: 'areas/a', sizeMm: 2, shiftMm: [0, -0.8], fitM, ...more });

  test('a length is left out where it is longer than its side', () => {
    const layers = layersOf(side(4), side(0.5));
    expect(decluttered(layers, 10)[0]!.marks).toHaveLength(1);
    expect(decluttered(layers, 40)[0]!.marks).toHaveLength(2);
  });

  test('a length makes way along its side or outwards, never across it', () => {
    const bold = label('Round bed', 0, { bold: true });
    for (const y of [-0.8, 2.2]) {
      const [layer] = decluttered(layersOf(side(4, { shiftMm: [0, y] }), bold), 10);
      const moved = layer!.marks[0] as TextMark;
      expect(meet(moved, bold)).toBe(false);
      expect(Math.sign(moved.shiftMm![1])).toBe(Math.sign(y));
      expect(Math.abs(moved.shiftMm![1])).toBeGreaterThanOrEqual(Math.abs(y));
      expect(Math.abs(moved.shiftMm![0])).toBeLessThanOrEqual(20);
    }
  });

  test('a tag goes round its own place and not to its neighbour', () => {
    const tag = label('12', 0, { sizeMm: 1.6, anchor: 'start', shiftMm: [1, -0.4] });
    const bold = label('Header', 0.2, { bold: true, shiftMm: [0, 0] });
    expect(meet(tag, bold)).toBe(true);
    const [layer] = decluttered(layersOf(tag, bold), 10);
    const moved = layer!.marks[0] as TextMark;
    expect(meet(moved, bold)).toBe(false);
    expect(Math.hypot(...moved.shiftMm!)).toBeLessThan(3.2);
  });
});
