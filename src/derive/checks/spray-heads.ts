import { memo } from '../../base/memo.ts';
import { distance } from '../../base/point.ts';
import type { Head, Plan, Ref } from '../../plan/records.ts';
import { called } from '../network/notices.ts';
import { UnionFind } from '../network/union-find.ts';
import type { Fix, Notice, PlanNetwork } from '../results.ts';
import { agree, counted, listed } from '../wording.ts';
import type { Check, Rule } from './check.ts';
import { headsOnDripValve, pipesAt } from './heads-on-drip-valve.ts';

/** A control set this near to a head stands at its tie-in, metres. */
const AT_TIE_IN = 1;

const TIE_IN = 'tie-in-without-control';
const oneValve =
  'Scotts Valley Water District, rebate rules, and La Verkin UT 8-8-4-3: no high-flow and low-flow outlets on one valve';

/** Spray heads on the valve that feeds drip must be decided: sprays and drip do not share a valve. */
const sprayHeads: Check = ({ plan, planNetwork }) =>
  told(plan.heads, plan.laterals, plan.supplies, plan.controls, planNetwork).filter(
    ({ rule }) => rule !== TIE_IN,
  );

/** A tie-in feeds drip, so that a filter and a regulator stand there or before it. */
export const tieInControl: Check = ({ plan, planNetwork }) =>
  told(plan.heads, plan.laterals, plan.supplies, plan.controls, planNetwork).filter(
    ({ rule }) => rule === TIE_IN,
  );

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
        fix: capped(kept),
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
        rule: TIE_IN,
        severity: 'warning',
        message: `No control set stands at ${agree(bare.length, 'the tie-in', 'the tie-ins')} ${listed(bare.map((head) => called(head)))}: set a filter and regulator there, or at the valve.`,
        refs: refs(bare),
        source: 'common practice: valve, filter, regulator, pipe, in the order of flow',
      });
    }
    return notices;
  },
);

function capped(heads: readonly Head[]): Fix {
  return {
    label: `Cap ${agree(heads.length, 'the head', 'these heads')}`,
    changes: [{ kind: 'set', table: 'heads', ids: heads.map(({ id }) => id), fields: { fate: 'cap' } }],
  };
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

export const sprayHeadsRule: Rule = {
  number: 1,
  title: 'No spray head on a valve that feeds drip',
  says: ['spray-heads-kept'],
  severity: 'error',
  limits: [],
  source: oneValve,
  check: sprayHeads,
};
