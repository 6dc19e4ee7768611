import type { ReactElement } from 'react';
import { colorOf, symbolShape, type Sample, type SymbolMark } from '../../drawing/index.ts';
import { PX_PER_MM } from '../../editor/index.ts';

const HALF_PX = 20;

function Sign({ symbol }: { readonly symbol: Omit<SymbolMark, 'at'> }): ReactElement {
  const size = symbol.sizeMm * PX_PER_MM;
  const stroke = symbol.pen ? colorOf(symbol.pen.ink) : 'none';
  return (
    <>
      {symbolShape(symbol.name, symbol.turnDeg).map((piece, i) => {
        const solid = symbol.pen ? stroke : colorOf(symbol.fill ?? 'line');
        const open = piece.paint === 'both' && symbol.fill ? colorOf(symbol.fill) : 'none';
        const look = {
          fill: piece.paint === 'solid' ? solid : open,
          stroke,
          strokeWidth: (symbol.pen?.widthMm ?? 0) * PX_PER_MM,
        };
        if (piece.kind === 'circle')
          return (
            <circle
              key={i}
              cx={piece.at[0] * size}
              cy={piece.at[1] * size}
              r={piece.radius * size}
              {...look}
            />
          );
        const points = piece.points.map(([x, y]) => `${x * size},${y * size}`).join(' ');
        return piece.closed ? (
          <polygon key={i} points={points} {...look} />
        ) : (
          <polyline key={i} points={points} {...look} />
        );
      })}
    </>
  );
}

/** A sample of the legend in its true pens, symbols over lines. */
export function SamplePicture({ sample }: { readonly sample: Sample }): ReactElement {
  const { line, round, symbols } = sample;
  return (
    <svg
      className="legend-line"
      width={2 * HALF_PX}
      height="20"
      viewBox={`${-HALF_PX} -10 ${2 * HALF_PX} 20`}
      aria-hidden="true"
    >
      {line && (
        <line
          x1={-HALF_PX}
          x2={HALF_PX}
          stroke={colorOf(line.ink)}
          strokeWidth={Math.max(line.widthMm * PX_PER_MM, 1)}
          strokeDasharray={line.dashMm?.map((mm) => mm * PX_PER_MM).join(' ')}
        />
      )}
      {round && (
        <circle
          r={8}
          fill={round.fill ? colorOf(round.fill) : 'none'}
          fillOpacity={round.opacity ?? 1}
          stroke={round.pen.widthMm > 0 ? colorOf(round.pen.ink) : 'none'}
          strokeWidth={Math.max(round.pen.widthMm * PX_PER_MM, 1)}
          strokeDasharray={round.pen.dashMm?.map((mm) => mm * PX_PER_MM).join(' ')}
        />
      )}
      {symbols.map((symbol, i) => (
        <Sign key={i} symbol={symbol} />
      ))}
    </svg>
  );
}
