import { memo } from '../../base/memo.ts';
import { feederTubes } from '../feeders.ts';
import type { Notice } from '../results.ts';
import { counted, listed } from '../wording.ts';
import type { Check, Limit, Rule } from './check.ts';

const count = { kind: 'count', least: 1, most: 20 } as const;
const WARN: Limit = {
  ...count,
  key: 'feeder-shared.warning',
  label: 'Emitters on one feeder, warning above',
  usual: 1,
  source: 'independent irrigation tutorials, emitter layout: one emitter on each micro-tube',
};
const ERROR: Limit = {
  ...count,
  key: 'feeder-shared.error',
  label: 'Emitters on one feeder, error above',
  usual: 2,
  source: 'common practice',
};

const tubesOf = memo(feederTubes);

/** Emitters that hang one on another share the thin feeder of the first one, and what is lost in it. */
const feederShared: Check = ({ planNetwork, limit }) => {
  const errorAbove = limit(ERROR);
  const warnAbove = Math.min(limit(WARN), errorAbove);
  const shared = tubesOf(planNetwork.outlets).filter(({ emitterIds }) => emitterIds.length > warnAbove);
  const notice = (isError: boolean): Notice[] => {
    const tubes = shared.filter(({ emitterIds }) => emitterIds.length > errorAbove === isError);
    if (tubes.length === 0) return [];
    const most = tubes.reduce((a, b) => (b.emitterIds.length > a.emitterIds.length ? b : a));
    const allowed = isError ? errorAbove : warnAbove;
    const others = tubes.length - 1;
    return [
      {
        rule: 'feeder-shared',
        severity: isError ? 'error' : 'warning',
        message: `${counted(most.emitterIds.length, 'emitter')} (${listed(most.emitterIds)}) get their water through one feeder${others > 0 ? `, and ${counted(others, 'other feeder')} ${others === 1 ? 'is' : 'are'} shared as well` : ''}; ${allowed} is the most for a feeder: lead feeders of their own from the run, or lead the run nearer to the plants.`,
        refs: tubes.flatMap(({ emitterIds }) => emitterIds.map((id) => ({ table: 'emitters', id }) as const)),
        source: (isError ? ERROR : WARN).source,
      },
    ];
  };
  return [...notice(true), ...notice(false)];
};

export const feederSharedRule: Rule = {
  number: 17,
  title: 'One emitter on each feeder',
  says: ['feeder-shared'],
  severity: 'error',
  limits: [WARN, ERROR],
  source: WARN.source,
  check: feederShared,
};
