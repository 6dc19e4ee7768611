import { memo } from '../base/memo.ts';
import { SegmentIndex } from '../base/segment-index.ts';
import type { Plan } from '../plan/records.ts';

/** The straight pieces of all runs of a plan, found by place; remembered while the runs stay. */
export const runIndex: (runs: Plan['runs']) => SegmentIndex = memo((runs) => new SegmentIndex(runs));
