import type { InlineEmitters, PointEmitter, Ref } from '../../plan/records.ts';
import { called } from '../network/notices.ts';
import type { Fix, Notice, OutletResult, RecordChange } from '../results.ts';
import { counted, isAbove } from '../wording.ts';
import type { Check, CheckInput, Limit, Rule } from './check.ts';
import { fedBy } from './fed-by.ts';

const bound = { kind: 'percent', least: 1, most: 100 } as const;
const WARN: Limit = {
  ...bound,
  key: 'flow-spread.warning',
  label: 'Flow spread of plain emitters in a zone, warning above',
  usual: 10,
  source: 'common practice: 10 percent over a zone; Flagstaff AZ 13-19-001 has a rule for laterals',
};
const ERROR: Limit = {
  ...bound,
  key: 'flow-spread.error',
  label: 'Flow spread of plain emitters in a zone, error above',
  usual: 20,
  source: 'common practice',
};

interface Spread {
  least: OutletResult;
  most: OutletResult;
  count: number;
  readonly runIds: Set<string>;
  readonly emitterIds: string[];
}
const share = ({ flowLph, ratedFlowLph }: OutletResult): number => flowLph / ratedFlowLph;

/**
 * Plain emitters give what their pressure makes them give. Spread is 100 (most - least) / most over the emitters of one
 * control set, of flow as a share of the rated one so that sizes compare; those without water are told by other rules.
 */
const flowSpread: Check = (input) => {
  const { plan, planNetwork, results, limit } = input;
  const errorPercent = limit(ERROR);
  const warnPercent = Math.min(limit(WARN), errorPercent);
  const { controlOfOutlet, supplyOfOutlet } = fedBy(planNetwork);
  const zones = new Map<string, { readonly ref: Ref; readonly spread: Spread }>();
  results.outlets.forEach((outlet, i) => {
    if (outlet.compensating || !(outlet.flowLph > 0)) return;
    const control = planNetwork.parts.controls[controlOfOutlet[i]!];
    const supply = planNetwork.parts.supplies[supplyOfOutlet[i]!];
    const ref: Ref | null = control
      ? { table: 'controls', id: control.id }
      : supply
        ? { table: 'supplies', id: supply.id }
        : null;
    if (!ref) return;
    const key = `${ref.table}/${ref.id}`;
    let zone = zones.get(key);
    if (!zone) {
      const spread = { least: outlet, most: outlet, count: 0, runIds: new Set<string>(), emitterIds: [] };
      zones.set(key, (zone = { ref, spread }));
    }
    const { spread } = zone;
    spread.count += 1;
    if (share(outlet) < share(spread.least)) spread.least = outlet;
    if (share(outlet) > share(spread.most)) spread.most = outlet;
    if (outlet.owner.table === 'runs') spread.runIds.add(outlet.runId);
    else spread.emitterIds.push(outlet.owner.id);
  });
  return [...zones.values()].flatMap(({ ref, spread }): Notice[] => {
    const percent = 100 * (1 - share(spread.least) / share(spread.most));
    if (!isAbove(percent, warnPercent)) return [];
    const isError = isAbove(percent, errorPercent);
    const record = ref.table === 'controls' ? plan.controls.get(ref.id) : plan.supplies.get(ref.id);
    const where = `${ref.table === 'controls' ? 'control set' : 'supply'} ${called((record as { id: string; name: string } | undefined) ?? { id: ref.id })}`;
    return [
      {
        rule: 'flow-spread',
        severity: isError ? 'error' : 'warning',
        message: `The flow of ${counted(spread.count, 'plain emitter')} behind ${where} differs by ${percent.toFixed(1)} %, more than ${+(isError ? errorPercent : warnPercent).toFixed(1)} %; the weakest gives ${Math.round(100 * share(spread.least))} % of its rated flow, the strongest ${Math.round(100 * share(spread.most))} %. Use compensating emitters, shorter runs, or a regulator of its own for each band of heights.`,
        refs: [ref, ...new Map([spread.least, spread.most].map(({ owner }) => [owner.id, owner])).values()],
        places: [spread.least.at, spread.most.at],
        source: (isError ? ERROR : WARN).source,
        fix: compensating(input, spread),
      },
    ];
  });
};

/** The same emitters, compensating. */
function compensating({ plan }: CheckInput, { runIds, emitterIds }: Spread): Fix {
  const kinds = new Map<string, { readonly inline: InlineEmitters; readonly ids: string[] }>();
  for (const id of runIds) {
    const inline = plan.runs.get(id)?.inline;
    if (!inline) continue;
    const key = JSON.stringify(inline);
    const kind = kinds.get(key);
    if (kind) kind.ids.push(id);
    else kinds.set(key, { inline, ids: [id] });
  }
  const changes: RecordChange[] = [...kinds.values()].map(({ inline, ids }) => ({
    kind: 'set',
    table: 'runs',
    ids,
    fields: { inline: { ...inline, law: 'inline-pc' } },
  }));
  const fields: Pick<PointEmitter, 'law'> = { law: 'point-pc' };
  if (emitterIds.length > 0) changes.push({ kind: 'set', table: 'emitters', ids: emitterIds, fields });
  return { label: 'Use compensating emitters', changes };
}

export const flowSpreadRule: Rule = {
  number: 5,
  title: 'Flow spread of plain emitters',
  says: ['flow-spread'],
  severity: 'error',
  limits: [WARN, ERROR],
  source: WARN.source,
  check: flowSpread,
};
