import type { Fill, Plan } from '../../plan/records.ts';
import type { RecordChange } from '../results.ts';

/** Fills whose runs are drawn anew when their choices change. */
export function liveFills(fills: Plan['fills']): readonly Fill[] {
  return [...fills].filter(({ byHand }) => !byHand);
}

/** Sets choices of fills of one kind; what is drawn follows. */
export function setChoices(
  fills: readonly Fill[],
  choices: Readonly<Record<string, unknown>>,
): RecordChange[] {
  return fills.map((fill) => ({
    kind: 'set',
    table: 'fills',
    ids: [fill.id],
    fields: { choices: { ...fill.choices, ...choices } },
  }));
}

/** The live fills of beds, by bed. */
export function bedFillsOf(
  fills: Plan['fills'],
  bedIds: ReadonlySet<string>,
): Extract<Fill, { kind: 'bed' }>[] {
  return liveFills(fills).flatMap((fill) => (fill.kind === 'bed' && bedIds.has(fill.areaId) ? [fill] : []));
}
