import type { Plan } from '../../plan/records.ts';
import type { PlacedFlushEnd } from '../results.ts';
import type { RunEnds } from './link-line.ts';
import { called, type Notices } from './notices.ts';

/** Openable ends at their nodes; one on a run that is not in the network is told and left out. */
export function placeFlushEnds(
  flushEnds: Plan['flushEnds'],
  ends: RunEnds,
  notices: Notices,
): PlacedFlushEnd[] {
  return [...flushEnds].flatMap((flushEnd): PlacedFlushEnd[] => {
    const run = ends.get(flushEnd.runId);
    if (!run) {
      notices.add(
        'flush-end-without-run',
        'warning',
        `Flush end ${called(flushEnd)} belongs to no run that can be used, and is left out: set it on the end of a run.`,
        { table: 'flushEnds', id: flushEnd.id },
      );
      return [];
    }
    return [{ id: flushEnd.id, runId: flushEnd.runId, end: flushEnd.end, ...run[flushEnd.end] }];
  });
}
