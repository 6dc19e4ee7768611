import type { ReactElement } from 'react';
import type { Problem } from '../../../base/result.ts';
import type { LedFill } from '../../../layout/live/index.ts';
import type { FillFigures } from '../../../layout/rows/index.ts';
import { useWords } from '../../words/index.ts';
import { FillOutcome } from './FillOutcome.tsx';

/** What rings round some trees come to, together, and which trees can have none. */
export function RingOutcome({
  laid,
  problems,
}: {
  readonly laid: readonly LedFill[];
  readonly problems: readonly Problem[];
}): ReactElement {
  const words = useWords().follow.rings;
  const figures = summed(laid.map((one) => one.figures));
  return (
    <div data-testid="rings-outcome">
      {figures && (
        <FillOutcome
          figures={figures}
          notes={laid.flatMap(({ notes }) => notes)}
          leads={laid.map(({ leads }) => leads)}
          heads={[
            ...(laid.length > 1 ? [[words.figures.trees, String(laid.length)] as const] : []),
            [words.figures.rings, String(figures.rows)],
          ]}
        />
      )}
      {problems.length > 0 && (
        <div className="advice" role="alert" data-severity="warning">
          <p>{words.failed(problems.length)}</p>
          <ul className="plain-list">
            {[...new Set(problems.map(({ what, todo }) => `${what}. ${todo}`))].map((text) => (
              <li key={text}>{text}</li>
            ))}
          </ul>
        </div>
      )}
    </div>
  );
}

/** Lengths, counts and flows of all together; the rate is the highest. */
function summed(all: readonly FillFigures[]): FillFigures | null {
  const [first, ...rest] = all;
  if (!first) return null;
  return rest.reduce(
    (sum, one) => ({
      ...sum,
      rows: sum.rows + one.rows,
      pieces: sum.pieces + one.pieces,
      lengthM: sum.lengthM + one.lengthM,
      headerLengthM: sum.headerLengthM + one.headerLengthM,
      emitters: sum.emitters + one.emitters,
      flowLph: sum.flowLph + one.flowLph,
      rateMmPerH: Math.max(sum.rateMmPerH, one.rateMmPerH),
      volumeL: sum.volumeL + one.volumeL,
    }),
    first,
  );
}
