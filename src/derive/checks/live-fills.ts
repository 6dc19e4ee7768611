import { outletLawById } from '../../catalog/index.ts';
import type { Fill, Plan, Ref } from '../../plan/records.ts';
import type { Fix, RecordChange } from '../results.ts';

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

/**
 * Gives built-in and point emitters other laws, at the flow that they have; live fills are drawn anew by their choices.
 * Null where there is nothing to change.
 */
export function withLaws(
  plan: Plan,
  owners: readonly Ref<'runs' | 'emitters'>[],
  laws: { readonly inline: string; readonly point: string },
  label: string,
): Fix | null {
  const runIds = new Set(owners.filter(({ table }) => table === 'runs').map(({ id }) => id));
  const fills = liveFills(plan.fills).filter((fill) => fill.runIds.some((id) => runIds.has(id)));
  const byFill = new Set(fills.flatMap((fill) => fill.runIds));
  const changes: RecordChange[] = setChoices(fills, { law: laws.inline });
  for (const id of runIds) {
    const inline = plan.runs.get(id)?.inline;
    if (!inline || byFill.has(id)) continue;
    changes.push({
      kind: 'set',
      table: 'runs',
      ids: [id],
      fields: { inline: { ...inline, law: laws.inline } },
    });
  }
  const points = owners
    .filter(({ table, id }) => table === 'emitters' && outletLawById(plan.emitters.get(id)?.law ?? ''))
    .map(({ id }) => id);
  if (points.length > 0)
    changes.push({ kind: 'set', table: 'emitters', ids: points, fields: { law: laws.point } });
  return changes.length > 0 ? { label, changes } : null;
}
