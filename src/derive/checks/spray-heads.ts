import { memo } from '../../base/memo.ts';
import { distance } from '../../base/point.ts';
import { nearestOnSegment } from '../../base/polyline.ts';
import { STANDS_ON_M } from '../../plan/joining.ts';
import type { Head, LateralPipe, Plan, Ref } from '../../plan/records.ts';
import { called } from '../network/notices.ts';
import { UnionFind } from '../network/union-find.ts';
import type { Notice, PlanNetwork } from '../results.ts';
import { agree, counted, listed } from '../wording.ts';
import type { Check } from './check.ts';

/** A control set this near to a head stands at its tie-in, metres. */
const AT_TIE_IN = 1;

const oneValve =
  'Scotts Valley Water District, rebate rules, and La Verkin UT 8-8-4-3: no high-flow and low-flow outlets on one valve';

/** Spray heads on the valve that feeds drip must be decided: sprays and drip do not share a valve. */
export const sprayHeads: Check = ({ plan, planNetwork }) =>
  told(plan.heads, plan.laterals, plan.supplies, plan.controls, planNetwork);

const told = memo(
  (
    heads: Plan['heads'],
    laterals: Plan['laterals'],
    supplies: Plan['supplies'],
    controls: Plan['controls'],
    planNetwork: PlanNetwork,
  ): Notice[] => {
    const shared = headsOnDripValve({ heads, laterals, supplies }, planNetwork);
    const refs = (list: readonly Head[]): Ref[] => list.map(({ id }) => ({ table: 'heads', id }) as const);
    const notices: Notice[] = [];
    const kept = shared.filter(({ fate }) => fate === 'keep');
    if (kept.length > 0) {
      notices.push({
        rule: 'spray-heads-kept',
        severity: 'error',
        message: `${counted(kept.length, 'spray head')} on the drip's valve ${agree(kept.length, 'is', 'are')} to be kept: sprays and drip do not belong on one valve, since pressure and minutes differ. Move ${agree(kept.length, 'it', 'them')} to another valve, or give the drip its own. ${agree(kept.length, 'Its', 'Their')} flow is not part of the figures here.`,
        refs: refs(kept),
        source: oneValve,
      });
    }
    const undecided = shared.filter(({ fate }) => fate === 'undecided');
    if (undecided.length > 0) {
      const todo =
        undecided.length === 1
          ? 'cap it, cut it off or make it the tie-in'
          : 'cap, cut off or make one the tie-in';
      notices.push({
        rule: 'spray-heads-undecided',
        severity: 'warning',
        message: `${counted(undecided.length, 'spray head')} on the drip's valve ${agree(undecided.length, 'is', 'are')} undecided: ${todo}.`,
        refs: refs(undecided),
        source: oneValve,
      });
    }
    const tieIns = [...heads].filter(({ fate }) => fate === 'tie-in');
    const regulated: ReadonlySet<string> = tieIns.length > 0 ? regulatedLaterals(planNetwork) : new Set();
    const bare = tieIns.filter(
      (head) =>
        ![...controls].some((control) => distance(control.at, head.at) <= AT_TIE_IN) &&
        !pipesAt(head, laterals).some((pipe) => regulated.has(pipe.id)),
    );
    if (bare.length > 0) {
      notices.push({
        rule: 'tie-in-without-control',
        severity: 'warning',
        message: `No control set stands at ${agree(bare.length, 'the tie-in', 'the tie-ins')} ${listed(bare.map((head) => called(head)))}: set a filter and regulator there, or at the valve.`,
        refs: refs(bare),
        source: 'common practice: valve, filter, regulator, pipe, in the order of flow',
      });
    }
    return notices;
  },
);

/** Heads whose pipe, or whose zone, is that of a valve with drip behind it. */
function headsOnDripValve(
  { heads, laterals, supplies }: Pick<Plan, 'heads' | 'laterals' | 'supplies'>,
  { network, pieces, parts }: PlanNetwork,
): Head[] {
  if (heads.size === 0) return [];
  const groups = new UnionFind(network.nodes.count);
  for (let link = 0; link < network.links.count; link++) {
    groups.join(network.links.from[link]!, network.links.to[link]!);
  }
  const drip = new Set<number>();
  for (const node of network.outlets.node) drip.add(groups.root(node));
  for (const control of parts.controls) if (control.fed) drip.add(groups.root(control.inlet));
  const wet = new Set<string>();
  pieces.forEach(({ owner }, link) => {
    if (owner.table === 'laterals' && drip.has(groups.root(network.links.from[link]!))) wet.add(owner.id);
  });
  const zones = new Set<string>();
  for (const placed of parts.supplies) {
    const zone = supplies.get(placed.id)?.zone;
    if (zone && drip.has(groups.root(placed.node))) zones.add(zone);
  }
  return [...heads].filter(
    (head) =>
      (head.zone !== null && zones.has(head.zone)) ||
      pipesAt(head, laterals).some((pipe) => wet.has(pipe.id)),
  );
}

/** Laterals that carry regulated water: the control set stands before them. */
function regulatedLaterals({ network, pieces, parts }: PlanNetwork): ReadonlySet<string> {
  const groups = new UnionFind(network.nodes.count);
  pieces.forEach(({ owner }, link) => {
    if (owner.table !== 'controls') groups.join(network.links.from[link]!, network.links.to[link]!);
  });
  const behind = new Set(parts.controls.filter(({ fed }) => fed).map(({ outlet }) => groups.root(outlet)));
  const ids = new Set<string>();
  pieces.forEach(({ owner }, link) => {
    if (owner.table === 'laterals' && behind.has(groups.root(network.links.from[link]!))) ids.add(owner.id);
  });
  return ids;
}

/** The pipes that name a head, or that it stands on. */
function pipesAt(head: Head, laterals: Plan['laterals']): LateralPipe[] {
  return [...laterals].filter(
    (pipe) =>
      (pipe.zone === null || head.zone === null || pipe.zone === head.zone) &&
      (pipe.from === head.id ||
        pipe.to === head.id ||
        nearestOnSegment(pipe.a, pipe.b, head.at).distance <= STANDS_ON_M),
  );
}
