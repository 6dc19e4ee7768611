import { bad, good, type Result } from '../../base/result.ts';
import { checksFacts } from '../words/checks-facts.ts';

const DAY_MIN = 24 * 60;
const CLOCK = /^(\d{1,2})(?:[:.h ]?(\d{2}))?\s*(?:h)?\s*([ap])?\.?\s*(?:m\.?)?$/i;

/**
 * Reads a time of day as typed (`22:00`, `6.30`, `630`, `10 pm`, `24:00`) into minutes after midnight, 0 to 1440.
 * Hours beyond 24, minutes beyond 59 and twelve-hour clocks beyond 12 are refused.
 */
export function parseClock(text: string): Result<number> {
  const { what, todo } = checksFacts.clock;
  const plain = text.trim();
  const refused = bad('time', what(plain), todo);
  const parts = CLOCK.exec(plain);
  if (!parts) return refused;
  const [, hourText, minuteText = '0', half] = parts;
  let hours = Number(hourText);
  const minutes = Number(minuteText);
  if (minutes > 59) return refused;
  if (half !== undefined) {
    if (hours < 1 || hours > 12) return refused;
    hours = (hours % 12) + (half.toLowerCase() === 'p' ? 12 : 0);
  }
  const total = 60 * hours + minutes;
  return total <= DAY_MIN ? good(total) : refused;
}

/** Minutes after midnight on a clock of 24 hours, such as `06:30`. */
export function formatClock(minutes: number): string {
  const whole = Math.round(minutes);
  return `${String(Math.floor(whole / 60)).padStart(2, '0')}:${String(whole % 60).padStart(2, '0')}`;
}
