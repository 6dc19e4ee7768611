import type { ReactElement } from 'react';
import { formatQuantity } from '../../base/quantity.ts';
import { FIRST_SPRAY, usualSprayFlow } from '../../catalog/index.ts';
import { patternOutline } from '../../drawing/index.ts';
import { wholeTurn, withSweep } from '../../plan/edits/index.ts';
import type { HeadPattern } from '../../plan/records.ts';
import { useEditorState } from '../services.ts';
import { useWords } from '../words/index.ts';
import { alike } from './alike.ts';
import { AlikeQuantity } from './alike-fields.tsx';
import type { ChangeHead, HeadFacts } from './head-facts.ts';

const SWEEPS = { quarter: 90, third: 120, half: 180, threeQuarters: 270, full: 360 } as const;
type Shape = keyof typeof SWEEPS | 'strip' | 'none';
const SHAPES: readonly Shape[] = ['quarter', 'third', 'half', 'threeQuarters', 'full', 'strip', 'none'];

function shapeOf(pattern: HeadPattern | null): Shape | 'other' {
  if (!pattern) return 'none';
  if (pattern.kind === 'strip') return 'strip';
  const sweep = pattern.sweepDeg;
  const found = Object.entries(SWEEPS).find(([, deg]) => Math.abs(deg - sweep) < 0.01);
  return (found?.[0] as Shape | undefined) ?? 'other';
}

/** A pattern brought to a shape; direction and radius stay where there are any. */
function shaped(pattern: HeadPattern | null, shape: Shape): HeadPattern | null {
  if (shape === 'none') return null;
  if (shape !== 'strip') return withSweep(pattern, SWEEPS[shape], FIRST_SPRAY.radiusM);
  if (pattern?.kind === 'strip') return pattern;
  const [lengthM, widthM] = FIRST_SPRAY.stripM;
  return { kind: 'strip', lengthM, widthM, directionDeg: 0 };
}

/** The shape as it would be drawn, about a dot for the head. */
function ShapePicture({ shape }: { readonly shape: Shape }): ReactElement {
  const sweepDeg = shape === 'strip' || shape === 'none' ? null : SWEEPS[shape];
  const outline =
    shape === 'none'
      ? null
      : patternOutline(
          [0, 0],
          sweepDeg === null
            ? { kind: 'strip', lengthM: 16, widthM: 6, directionDeg: 0 }
            : { kind: 'sector', radiusM: 8, startDeg: 90 - sweepDeg / 2, sweepDeg },
        );
  const points = (outline ?? []).map(([x, y]) => `${x.toFixed(2)},${(-y).toFixed(2)}`).join(' ');
  return (
    <svg width="22" height="22" viewBox="-10 -10 20 20" aria-hidden="true">
      {outline ? (
        <polygon points={points} fill="currentColor" fillOpacity="0.18" stroke="currentColor" />
      ) : (
        <path d="M-5 0h10" stroke="currentColor" fill="none" />
      )}
      {outline && <circle r="1.6" fill="currentColor" />}
    </svg>
  );
}

interface Props {
  readonly heads: readonly HeadFacts[];
  readonly change: ChangeHead;
}

/** The ground that heads wet: quick shapes, then their figures. */
export function PatternFields({ heads, change }: Props): ReactElement {
  const words = useWords().heads;
  const shape = alike(heads, (head) => shapeOf(head.pattern));
  const reshape = (next: (pattern: HeadPattern) => HeadPattern | null) =>
    change((head) => (head.pattern ? { pattern: next(head.pattern) } : null));
  const sectors = heads.flatMap(({ pattern }) => (pattern?.kind === 'sector' ? [pattern] : []));
  const strips = heads.flatMap(({ pattern }) => (pattern?.kind === 'strip' ? [pattern] : []));
  return (
    <>
      <div className="shapes" role="group" aria-label={words.wets}>
        {SHAPES.map((one) => (
          <button
            key={one}
            type="button"
            aria-pressed={!shape.differ && shape.value === one}
            aria-label={words.shapes[one]}
            title={
              one === 'none'
                ? words.shapes.none
                : `${words.shapes[one]}; ${one === 'strip' ? words.firstStrip : words.firstRadius}`
            }
            onClick={() => change((head) => ({ pattern: shaped(head.pattern, one) }))}
          >
            <ShapePicture shape={one} />
          </button>
        ))}
      </div>
      {sectors.length === heads.length && (
        <>
          <AlikeQuantity
            label={words.radius}
            kind="length"
            of={alike(sectors, (pattern) => pattern.radiusM)}
            min={0.3}
            max={30}
            onChange={(radiusM) =>
              reshape((pattern) =>
                radiusM === null || pattern.kind !== 'sector' ? null : { ...pattern, radiusM },
              )
            }
          />
          <AlikeQuantity
            label={words.start}
            kind="angle"
            of={alike(sectors, (pattern) => pattern.startDeg)}
            min={-360}
            max={360}
            hint={words.angleHint}
            onChange={(deg) =>
              reshape((pattern) =>
                deg === null || pattern.kind !== 'sector'
                  ? pattern
                  : { ...pattern, startDeg: wholeTurn(deg) },
              )
            }
          />
          <AlikeQuantity
            label={words.sweep}
            kind="angle"
            of={alike(sectors, (pattern) => pattern.sweepDeg)}
            min={1}
            max={360}
            onChange={(sweepDeg) =>
              reshape((pattern) =>
                sweepDeg === null || pattern.kind !== 'sector' ? pattern : { ...pattern, sweepDeg },
              )
            }
          />
        </>
      )}
      {strips.length === heads.length && (
        <>
          {(['lengthM', 'widthM'] as const).map((key) => (
            <AlikeQuantity
              key={key}
              label={key === 'lengthM' ? words.length : words.width}
              kind="length"
              of={alike(strips, (pattern) => pattern[key])}
              min={0.3}
              max={30}
              onChange={(value) =>
                reshape((pattern) =>
                  value === null || pattern.kind !== 'strip' ? null : { ...pattern, [key]: value },
                )
              }
            />
          ))}
          <AlikeQuantity
            label={words.along}
            kind="angle"
            of={alike(strips, (pattern) => pattern.directionDeg)}
            min={-360}
            max={360}
            hint={words.angleHint}
            onChange={(deg) =>
              reshape((pattern) =>
                pattern.kind === 'strip'
                  ? { ...pattern, directionDeg: deg === null ? null : wholeTurn(deg) }
                  : pattern,
              )
            }
          />
        </>
      )}
    </>
  );
}

function usualOf({ pattern }: HeadFacts) {
  return pattern?.kind === 'sector' ? usualSprayFlow(pattern.radiusM, pattern.sweepDeg) : null;
}

/** Offers the usual flow where none is known; it is never taken without being asked for. */
export function UsualFlowButton({ heads, change }: Props): ReactElement | null {
  const words = useWords().heads;
  const units = useEditorState((state) => state.units);
  const open = heads.filter((head) => head.flowLph === null && usualOf(head));
  const first = open[0] && usualOf(open[0]);
  if (!first) return null;
  const flow = alike(open, (head) => Math.round(usualOf(head)!.flowLph * 1000));
  const shown = flow.differ ? words.differ : formatQuantity('zoneFlow', first.flowLph, units);
  return (
    <p className="field-note">
      <button
        type="button"
        className="link usual"
        onClick={() =>
          change((head) => {
            const usual = head.flowLph === null ? usualOf(head) : null;
            return usual && { flowLph: usual.flowLph, pressureKpa: usual.pressureKpa };
          })
        }
      >
        {`${words.usual} ${shown} ${words.usualAt} ${formatQuantity('pressure', first.pressureKpa, units, { digits: 0 })}`}
      </button>{' '}
      ({first.source})
    </p>
  );
}
