import type { ReactElement } from 'react';
import {
  TEXTURES,
  TRIANGLE_REGIONS,
  TRIANGLE_SOURCE,
  type Shares,
  type Texture,
} from '../../../catalog/index.ts';
import { useWords } from '../../words/index.ts';

const SIDE = 280;
const HEIGHT = (SIDE * Math.sqrt(3)) / 2;
const MARGIN = 12;

/** Place of a share of sand and clay: sand at the lower left corner, silt lower right, clay on top. */
function place(sand: number, clay: number): readonly [number, number] {
  const silt = 100 - sand - clay;
  return [MARGIN + (SIDE * (silt + clay / 2)) / 100, MARGIN + HEIGHT * (1 - clay / 100)];
}

const CODES = new Map(TEXTURES.map(({ texture, code }) => [texture, code]));

/** Where the abbreviation of a class stands: the middle of its corners by area. */
function middle(corners: readonly (readonly [number, number])[]): readonly [number, number] {
  let twice = 0;
  let x = 0;
  let y = 0;
  corners.forEach(([ax, ay], i) => {
    const [bx, by] = corners[(i + 1) % corners.length]!;
    const cross = ax * by - bx * ay;
    twice += cross;
    x += (ax + bx) * cross;
    y += (ay + by) * cross;
  });
  return place(x / (3 * twice), y / (3 * twice));
}

const CLASSES = TRIANGLE_REGIONS.map(({ texture, corners }) => ({
  texture,
  points: corners
    .map(([sand, clay]) =>
      place(sand, clay)
        .map((v) => v.toFixed(1))
        .join(','),
    )
    .join(' '),
  label: middle(corners),
}));

interface Props {
  readonly texture: Texture | null;
  /** Shares of the jar test, for the point; none draws the class alone. */
  readonly shares: Shares | null;
}

/** The texture triangle with its classes, the class at hand washed and the jar test as a point. */
export function TextureTriangle({ texture, shares }: Props): ReactElement {
  const words = useWords().soil.texture;
  const point = shares && place(shares.sand, shares.clay);
  // The class at hand last, so that its edge lies on those of its neighbours.
  const inOrder = [...CLASSES].sort((a, b) => Number(a.texture === texture) - Number(b.texture === texture));
  const said = texture ? `${words.triangle}: ${texture}` : words.triangle;
  return (
    <svg
      className="triangle"
      viewBox={`0 0 ${SIDE + 2 * MARGIN} ${(HEIGHT + 2 * MARGIN).toFixed(0)}`}
      role="img"
      aria-label={`${said}; ${words.triangleText}`}
    >
      <title>{TRIANGLE_SOURCE}</title>
      {inOrder.map(({ texture: each, points, label }) => (
        <g key={each} data-at={each === texture}>
          <polygon points={points} />
          {!(point && each === texture) && (
            <text x={label[0]} y={label[1]}>
              {CODES.get(each)}
            </text>
          )}
        </g>
      ))}
      {point && <circle cx={point[0]} cy={point[1]} r={5} />}
    </svg>
  );
}
