import { tightBends } from '../../base/bends.ts';
import type { Path } from '../../base/point.ts';
import { SegmentIndex } from '../../base/segment-index.ts';
import { bendLimitOf } from '../../derive/bend-radius.ts';
import { limitOf } from '../../derive/checks/check.ts';
import { runIndex } from '../../derive/run-index.ts';
import { JOINT_TOLERANCE_M } from '../../plan/joining.ts';
import type { Plan } from '../../plan/records.ts';
import type { Draft } from './tool.ts';

type Sign = NonNullable<Draft['signs']>[number];

/** Where a run that is being drawn bends tighter than its tubing allows, or crosses tubing without a joint. */
export function runSigns(plan: Pick<Plan, 'runs' | 'checks'>, path: Path, tubing: string): Sign[] {
  const limit = bendLimitOf(tubing);
  const bends = limit ? tightBends(path, limitOf(plan)(limit)) : [];
  const own = new SegmentIndex([{ id: '', path }]).crossings(JOINT_TOLERANCE_M);
  const others = runIndex(plan.runs).crossingsWith(path, JOINT_TOLERANCE_M);
  return [
    ...bends.map(({ at }): Sign => ({ at, kind: 'bend' })),
    ...[...own, ...others].map(({ at }): Sign => ({ at, kind: 'cross' })),
  ];
}

/** What the signs mean, beside the last of them. */
export function withSigns(draft: Draft, plan: Plan, tubing: string): Draft {
  const path = draft.lines[0]?.points ?? [];
  const signs = path.length > 1 ? runSigns(plan, path, tubing) : [];
  const last = signs.at(-1);
  if (!last) return draft;
  const text = last.kind === 'bend' ? 'too tight to bend: elbow' : 'crosses without a joint';
  return { ...draft, signs, word: { at: last.at, text } };
}

/** The same in a sentence once the run is drawn; null where there is nothing to tell. */
export function signsSaid(signs: readonly Sign[]): string | null {
  const count = (kind: Sign['kind']) => signs.filter((sign) => sign.kind === kind).length;
  const [bends, crossings] = [count('bend'), count('cross')];
  const parts = [
    ...(bends
      ? [
          `${bends} ${bends === 1 ? 'bend is' : 'bends are'} tighter than the tubing allows and ${bends === 1 ? 'needs an elbow' : 'need elbows'}`,
        ]
      : []),
    ...(crossings
      ? [`it crosses tubing at ${crossings} ${crossings === 1 ? 'place' : 'places'} without a joint`]
      : []),
  ];
  const text = parts.join('; ');
  return text ? `${text.charAt(0).toUpperCase()}${text.slice(1)}.` : null;
}
