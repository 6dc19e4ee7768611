import type { Point } from '../../base/point.ts';
import { LINK, type LossCurve } from '../../hydraulics/network.ts';
import { kpaToHead, lphToM3s } from '../../hydraulics/index.ts';
import type { Plan } from '../../plan/records.ts';
import { readAcross } from '../ground/index.ts';
import type { PlacedCheckValve } from '../results.ts';
import type { Line } from './lines.ts';
import { nearestOnLine } from './nearest.ts';
import type { NetworkDraft } from './network-draft.ts';
import { called, type Notices } from './notices.ts';

/** A check valve on its line, to be put between two nodes. */
export interface LineValve {
  /** Distance along the ground. */
  readonly groundAlong: number;
  place(from: number, to: number, at: Point, draft: NetworkDraft): void;
}

/** Flows between which a spring-loaded check takes its opening pressure, and a tenth more, L/h (common practice). */
const OPENS_LPH = 2;
const WIDE_LPH = 2000;

/** Check valves by line, in the order of its path, and the list that fills as they are put into the network. */
export function placeCheckValves(
  checkValves: Plan['checkValves'],
  lines: readonly Line[],
  notices: Notices,
): { readonly byLine: readonly (readonly LineValve[] | undefined)[]; readonly placed: PlacedCheckValve[] } {
  const placed: PlacedCheckValve[] = [];
  const byLine: LineValve[][] = [];
  if (checkValves.size === 0) return { byLine, placed };
  const lineOfRun = new Map<string, number>();
  lines.forEach((line, i) => {
    if (line.isRun) lineOfRun.set(line.owner.id, i);
  });
  for (const valve of checkValves) {
    const ref = { table: 'checkValves', id: valve.id } as const;
    const index = lineOfRun.get(valve.runId);
    if (index === undefined || !valve.at.every(Number.isFinite)) {
      notices.add(
        'check-valve-without-run',
        'warning',
        `Check valve ${called(valve)} stands on no run that can be used, and is left out: set it on a run.`,
        ref,
      );
      continue;
    }
    const line = lines[index]!;
    const { planAlong, groundAlong } = line.profile;
    (byLine[index] ??= []).push({
      groundAlong: readAcross(planAlong, groundAlong, nearestOnLine(line, valve.at).along),
      place(from, to, at, draft) {
        const curve = valve.openKpa > 0 ? draft.lossCurve(openingCurve(valve.openKpa)) : -1;
        const link = draft.link({ kind: LINK.check, from, to, curve }, ref, at, at);
        placed.push({ id: valve.id, runId: valve.runId, link });
      },
    });
  }
  for (const list of byLine) list?.sort((a, b) => a.groundAlong - b.groundAlong);
  return { byLine, placed };
}

/** A spring takes its opening pressure as soon as anything passes, and little more after that. */
function openingCurve(openKpa: number): LossCurve {
  return {
    flowM3s: Float64Array.of(lphToM3s(OPENS_LPH), lphToM3s(WIDE_LPH)),
    lossM: Float64Array.of(kpaToHead(openKpa), kpaToHead(1.1 * openKpa)),
  };
}
