import { describe, expect, test, vi } from 'vitest';
import { memo } from './memo.ts';

describe('memo', () => {
  test('computes again only when an argument is another object', () => {
    const compute = vi.fn((a: { n: number }, b: number) => ({ sum: a.n + b }));
    const remembered = memo(compute);
    const one = { n: 1 };
    const first = remembered(one, 2);
    expect(remembered(one, 2)).toBe(first);
    expect(compute).toHaveBeenCalledTimes(1);
    expect(remembered({ n: 1 }, 2)).toEqual(first);
    expect(remembered({ n: 1 }, 2)).not.toBe(first);
    expect(compute).toHaveBeenCalledTimes(3);
  });

  test('NaN is the same as NaN', () => {
    const compute = vi.fn((n: number) => n);
    const remembered = memo(compute);
    remembered(NaN);
    remembered(NaN);
    expect(compute).toHaveBeenCalledTimes(1);
  });

  test('a failure is not remembered', () => {
    let fail = true;
    const remembered = memo((n: number) => {
      if (fail) throw new Error('not now');
      return n;
    });
    expect(() => remembered(1)).toThrow('not now');
    fail = false;
    expect(remembered(1)).toBe(1);
  });
});
