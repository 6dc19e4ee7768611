import { called } from '../network/notices.ts';
import { agree, listed } from '../wording.ts';
import type { Rule } from './check.ts';

const source =
  'University of Arizona Cooperative Extension, Cochise County, Drip Irrigation 101: valve, filter, regulator, pipe, in the order of flow';

/** Grit ruins the seat of a regulator that stands before the filter. */
export const controlOrderRule: Rule = {
  number: 10,
  title: 'Valve, filter, regulator, in this order',
  says: ['filter-after-regulator'],
  severity: 'warning',
  limits: [],
  source,
  check: ({ plan }) => {
    const wrong = [...plan.controls].filter(({ regulatorFirst }) => regulatorFirst === true);
    if (wrong.length === 0) return [];
    const ids = wrong.map(({ id }) => id);
    return [
      {
        rule: 'filter-after-regulator',
        severity: 'warning',
        message: `In ${agree(wrong.length, 'control set', 'control sets')} ${listed(wrong.map(called))} water passes the regulator before the filter, so that grit reaches the regulator: set the filter first.`,
        refs: ids.map((id) => ({ table: 'controls', id }) as const),
        source,
        fix: {
          label: 'Set the filter first',
          changes: [{ kind: 'set', table: 'controls', ids, fields: { regulatorFirst: false } }],
        },
      },
    ];
  },
};
