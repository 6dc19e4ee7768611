import { type Point } from '../base/point.ts';
import { placeOnRun } from './on-run.ts';
import type { Plan, Ref } from './records.ts';

/** The places that a record holds, or on which it sits: one, or those of its path or outline; none for unknown ids. */
export function placesOf(plan: Plan, ref: Ref): readonly Point[] {
  switch (ref.table) {
    case 'areas':
      return plan.areas.get(ref.id)?.outline ?? [];
    case 'runs':
      return plan.runs.get(ref.id)?.path ?? [];
    case 'laterals': {
      const pipe = plan.laterals.get(ref.id);
      return pipe ? [pipe.a, pipe.b] : [];
    }
    case 'falls': {
      const fall = plan.falls.get(ref.id);
      return fall ? [fall.from, fall.to] : [];
    }
    case 'flushEnds':
    case 'checkValves':
    case 'lineParts': {
      const at = placeOnRun(plan, ref);
      return at ? [at] : [];
    }
    case 'fills': {
      const fill = plan.fills.get(ref.id);
      return (fill?.runIds ?? []).flatMap((id) => plan.runs.get(id)?.path ?? []);
    }
    default: {
      const record = plan[ref.table].get(ref.id);
      return record ? [record.at] : [];
    }
  }
}
