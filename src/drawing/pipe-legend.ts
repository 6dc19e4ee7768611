import type { LateralFate, Plan } from '../plan/records.ts';
import type { Pen, SymbolMark } from './marks.ts';
import { CUT_MARK, CUT_STROKE, FLOW_TICK, lateralMarks, pipePen, TEE_DOT } from './old-pipes.ts';

/** A line of the legend about old pipe. */
export interface PipeEntry {
  readonly sample: { readonly line?: Pen; readonly symbols: readonly Omit<SymbolMark, 'at'>[] };
  readonly words: string;
}

const FATE_WORDS: Readonly<Record<LateralFate, string>> = {
  undecided: 'existing lateral',
  live: 'existing lateral that carries drip water',
  dead: 'existing lateral, joined but dead: still water',
  'cut off': 'existing lateral, cut off',
};
const SIGNS: Readonly<Record<LateralFate, readonly Omit<SymbolMark, 'at'>[]>> = {
  undecided: [],
  live: [{ kind: 'symbol', ...FLOW_TICK }],
  dead: [],
  'cut off': [{ kind: 'symbol', ...CUT_STROKE }],
};

/** The looks of old pipe that a plan's drawing uses, by fate, found and assumed, and the signs at its joints. */
export function pipeLegend(plan: Pick<Plan, 'laterals' | 'supplies'>): PipeEntry[] {
  const entries: PipeEntry[] = [];
  const pipes = plan.laterals.toArray();
  for (const fate of ['undecided', 'live', 'dead', 'cut off'] as const) {
    for (const measured of [true, false]) {
      if (!pipes.some((pipe) => pipe.fate === fate && pipe.measured === measured)) continue;
      const how = measured ? (fate === 'undecided' ? ', measured' : '') : ', assumed';
      entries.push({
        sample: { line: pipePen({ fate, measured }), symbols: SIGNS[fate] },
        words: `${FATE_WORDS[fate]}${how}`,
      });
    }
  }
  const drawn = new Set(
    lateralMarks(plan.laterals, plan.supplies).flatMap((mark) => (mark.kind === 'symbol' ? [mark.name] : [])),
  );
  if (drawn.has('cutMark')) {
    entries.push({ sample: { symbols: [{ kind: 'symbol', ...CUT_MARK }] }, words: 'cut the pipe here' });
  }
  if (drawn.has('dot')) {
    entries.push({
      sample: { symbols: [{ kind: 'symbol', ...TEE_DOT }] },
      words: 'tee of the existing lateral',
    });
  }
  return entries;
}
