import type { ReactElement } from 'react';
import type { Results } from '../../derive/results.ts';
import { colorOf, legendOf, symbolShape, type SymbolMark } from '../../drawing/index.ts';
import { PX_PER_MM } from '../../editor/index.ts';
import { useEditorState } from '../services.ts';

function SymbolPicture({ symbol }: { readonly symbol: Omit<SymbolMark, 'at'> }): ReactElement {
  const size = symbol.sizeMm * PX_PER_MM;
  const stroke = symbol.pen ? colorOf(symbol.pen.ink) : 'none';
  return (
    <svg width="18" height="18" viewBox="-9 -9 18 18" aria-hidden="true">
      {symbolShape(symbol.name, symbol.turnDeg).map((piece, i) => {
        const fill =
          piece.paint === 'solid'
            ? stroke
            : piece.paint === 'both' && symbol.fill
              ? colorOf(symbol.fill)
              : 'none';
        const look = { fill, stroke, strokeWidth: (symbol.pen?.widthMm ?? 0) * PX_PER_MM };
        if (piece.kind === 'circle') {
          return (
            <circle
              key={i}
              cx={piece.at[0] * size}
              cy={piece.at[1] * size}
              r={piece.radius * size}
              {...look}
            />
          );
        }
        const points = piece.points.map(([x, y]) => `${x * size},${y * size}`).join(' ');
        return piece.closed ? (
          <polygon key={i} points={points} {...look} />
        ) : (
          <polyline key={i} points={points} {...look} />
        );
      })}
    </svg>
  );
}

/** Colours and signs of the outlets, as on the sheets. */
export function Legend({ results }: { readonly results: Results }): ReactElement {
  const units = useEditorState((state) => state.units);
  return (
    <div className="legend">
      {legendOf(results, units).map((entry) =>
        entry.kind === 'ramp' ? (
          <figure key={entry.words} className="ramp">
            <figcaption>{entry.words}</figcaption>
            <div
              className="ramp-bar"
              style={{
                background: `linear-gradient(to right, ${entry.stops.map((stop) => stop.color).join(', ')})`,
              }}
            />
            <div className="ramp-words">
              {entry.stops
                .filter((_, i) => i % 2 === 0)
                .map((stop) => (
                  <span key={stop.pressureKpa}>{stop.words}</span>
                ))}
            </div>
          </figure>
        ) : (
          <p key={entry.words} className="legend-mark">
            {entry.sample.symbols.map((symbol, i) => (
              <SymbolPicture key={i} symbol={symbol} />
            ))}
            {entry.words}
          </p>
        ),
      )}
    </div>
  );
}
