import { formatQuantity } from '../../base/quantity.ts';
import { FOOT_M, GALLON_L } from '../../base/units.ts';
import { outletLawById } from '../../catalog/index.ts';
import { kpaToHead } from '../../hydraulics/index.ts';
import type { Ref } from '../../plan/records.ts';
import { buildPlanNetwork } from '../network/index.ts';
import { called } from '../network/notices.ts';
import type { Notice } from '../results.ts';
import { drainDown as drained, type DrainedOutlet } from '../scenarios/drain-down.ts';
import { counted, isAbove } from '../wording.ts';
import type { Limit, Rule } from './check.ts';
import { byNetworkTables } from './by-network-tables.ts';
import { dripGroups, groupName, type DripGroup } from './drip-groups.ts';
import { withLaws } from './live-fills.ts';

const SOURCE =
  'independent irrigation tutorials, low-head drainage; Redwood City landscape rules and San Marcos TX: check valves where height lets lines drain; figures: common practice';

/** Fall of a line that drains without a check. */
export const FALL: Limit = {
  key: 'drain-down.fall',
  label: 'Fall in a line without a check',
  kind: 'length',
  usual: FOOT_M,
  least: 0,
  most: 30,
  source: SOURCE,
};
const VOLUME: Limit = {
  key: 'drain-down.volume',
  label: 'Water that drains after each cycle',
  kind: 'volume',
  usual: GALLON_L,
  least: 0,
  most: 1000,
  source: 'common practice',
};

/** What of a group drains at which outlets, the most first. */
interface Drained {
  readonly group: DripGroup;
  readonly outlets: readonly DrainedOutlet[];
  /** Outlets that have a check already. */
  readonly checked: ReadonlySet<number>;
  readonly owners: readonly Ref<'runs' | 'emitters'>[];
}

/** By group, in the order of the groups. */
const drainedOf = byNetworkTables((plan): readonly Drained[] => {
  const byOutlet = new Map(drained(plan).outlets.map((one) => [one.outlet, one]));
  if (byOutlet.size === 0) return [];
  const planNetwork = buildPlanNetwork(plan);
  return dripGroups(planNetwork).flatMap((group): Drained[] => {
    const outlets = group.outlets.flatMap((i) => byOutlet.get(i) ?? []);
    if (outlets.length === 0) return [];
    outlets.sort((a, b) => b.volumeL - a.volumeL || a.outlet - b.outlet);
    const placed = group.outlets.map((i) => planNetwork.outlets[i]!);
    const owners = new Map(placed.map(({ owner }) => [`${owner.table}/${owner.id}`, owner]));
    return [
      {
        group,
        outlets,
        checked: new Set(group.outlets.filter((i) => planNetwork.outlets[i]!.closingKpa !== null)),
        owners: [...owners.values()],
      },
    ];
  });
});

/** Where tubing empties after each cycle: one notice for each group behind a control set, with its worst outlet. */
export const drainDownRule: Rule = {
  number: 25,
  title: 'Lines that drain after shut-off',
  says: ['drain-down'],
  severity: 'warning',
  limits: [FALL, VOLUME],
  source: SOURCE,
  check: ({ plan, units, limit }) =>
    drainedOf(plan)
      .map((one) => {
        // Only lines that fall count, each from its own top: what hangs on another line says nothing of them.
        const outlets = one.outlets.filter(({ fallM }) => isAbove(fallM, limit(FALL)));
        return { ...one, outlets, volumeL: outlets.reduce((sum, { volumeL }) => sum + volumeL, 0) };
      })
      .filter(({ outlets, volumeL }) => outlets.length > 0 && isAbove(volumeL, limit(VOLUME)))
      .map((one): Notice => {
        const { group, outlets, volumeL, checked } = one;
        const worst = outlets[0]!;
        const { fallM } = worst;
        const hasCheck = checked.has(worst.outlet);
        const holds = holdsM(one);
        const enough = !hasCheck && fallM <= holds;
        const how = hasCheck
          ? `its emitters hold back ${formatQuantity('length', holds, units)} of fall only: set a check valve in the line for each such height`
          : `emitters with a built-in check hold back about ${formatQuantity('length', holds, units)} of fall${enough ? '' : ', and a check valve in the line for each such height the rest'}`;
        const fix = hasCheck ? null : withLaws(plan, one.owners, CHECKED, 'Use emitters with a check');
        return {
          rule: 'drain-down',
          severity: 'warning',
          message: `After shut-off: ${formatQuantity('volume', volumeL, units)} behind ${groupName(plan, group)} drain at ${counted(outlets.length, 'emitter')} after each cycle, ${formatQuantity('volume', worst.volumeL, units)} of it at emitter ${worst.number} of run ${called(plan.runs.get(worst.runId) ?? { id: worst.runId })}; the line falls ${formatQuantity('length', fallM, units)} to there. It leaves wet ground and draws air and soil in above: ${how}.`,
          refs: [...group.feeds, { table: 'runs', id: worst.runId }],
          places: outlets.slice(0, MOST_PLACES).map(({ at }) => at),
          source: SOURCE,
          ...(fix ? { fix } : {}),
        };
      }),
};

const MOST_PLACES = 20;
const CHECKED = { inline: 'inline-pc-check', point: 'point-pc-check' } as const;

/** Fall that emitters with a check hold back, metres of water. */
function holdsM({ owners }: Pick<Drained, 'owners'>): number {
  const isPoint = owners.every(({ table }) => table === 'emitters');
  const closing = outletLawById(isPoint ? CHECKED.point : CHECKED.inline)?.closingKpa ?? 0;
  return kpaToHead(closing);
}
