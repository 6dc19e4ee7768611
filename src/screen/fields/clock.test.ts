import fc from 'fast-check';
import { expect, test } from 'vitest';
import { formatClock, parseClock } from './clock.ts';

test.each([
  ['22:00', 1320],
  ['6:30', 390],
  ['6.30', 390],
  ['630', 390],
  [' 0:00 ', 0],
  ['24:00', 1440],
  ['6', 360],
  ['10 pm', 1320],
  ['12 am', 0],
  ['12:15 pm', 735],
  ['6 a.m.', 360],
])('%s', (text, minutes) => {
  expect(parseClock(text)).toEqual({ ok: true, value: minutes });
});

test.each(['25:00', '24:01', '22:60', '13 pm', '0 am', '', 'noon', '-3:00', '10:0', '1:2:3', '99999'])(
  '%s is refused with what to type',
  (text) => {
    const read = parseClock(text);
    expect(read.ok).toBe(false);
    if (!read.ok) {
      expect(read.problem.what).toContain(text);
      expect(read.problem.todo).toContain('22:00');
    }
  },
);

test('what is shown reads back', () => {
  fc.assert(
    fc.property(fc.integer({ min: 0, max: 1440 }), (minutes) => {
      expect(parseClock(formatClock(minutes))).toEqual({ ok: true, value: minutes });
    }),
    { seed: 38 },
  );
});
