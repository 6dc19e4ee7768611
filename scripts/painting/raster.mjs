/**
 * A small painter: anti-aliased polygons and discs on an RGB picture, with colours that vary in a few flat tones.
 * Everything is given in plan metres (x east, y north) and comes out the same at every run.
 */

/** Seeded numbers in [0, 1) (mulberry32, public domain). */
export function numbers(seed) {
  let a = seed >>> 0;
  return () => {
    a = (a + 0x6d2b79f5) >>> 0;
    let t = Math.imul(a ^ (a >>> 15), 1 | a);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

/** Smooth noise in [0, 1] over plan metres, features about `sizeM` wide. */
export function noise(seed, sizeM) {
  const lattice = (i, j) => {
    let h = Math.imul(i, 374761393) ^ Math.imul(j, 668265263) ^ Math.imul(seed, 2246822519);
    h = Math.imul(h ^ (h >>> 13), 1274126177);
    return ((h ^ (h >>> 16)) >>> 0) / 4294967296;
  };
  const ease = (t) => t * t * (3 - 2 * t);
  return (x, y) => {
    const [u, v] = [x / sizeM, y / sizeM];
    const [i, j] = [Math.floor(u), Math.floor(v)];
    const [s, t] = [ease(u - i), ease(v - j)];
    const low = lattice(i, j) + (lattice(i + 1, j) - lattice(i, j)) * s;
    const high = lattice(i, j + 1) + (lattice(i + 1, j + 1) - lattice(i, j + 1)) * s;
    return low + (high - low) * t;
  };
}

/** A paint of a few tones laid out by noise; flat tones keep the picture calm and its file small. */
export function tones(colours, field) {
  return (x, y) =>
    colours[Math.min(colours.length - 1, Math.max(0, Math.floor(field(x, y) * colours.length)))];
}

export function createPainter({ widthM, heightM, pixelsPerMetre }) {
  const width = Math.round(widthM * pixelsPerMetre);
  const height = Math.round(heightM * pixelsPerMetre);
  const pixels = new Uint8Array(width * height * 3);
  const toPx = ([x, y]) => [x * pixelsPerMetre, (heightM - y) * pixelsPerMetre];

  function blend(column, row, paint, strength) {
    if (strength <= 0) return;
    const colour =
      typeof paint === 'function'
        ? paint((column + 0.5) / pixelsPerMetre, heightM - (row + 0.5) / pixelsPerMetre)
        : paint;
    const at = (row * width + column) * 3;
    for (let c = 0; c < 3; c++) pixels[at + c] += Math.round((colour[c] - pixels[at + c]) * strength);
  }

  /**
   * Fills rings; coverage is exact across and sampled eight times down each pixel.
   * `evenodd` leaves out what lies in two rings, `together` paints it once (rings all of one sense).
   */
  function fill(rings, paint, opacity = 1, rule = 'evenodd') {
    const edges = rings.flatMap((ring) => {
      const points = ring.map(toPx);
      return points.map((a, i) => [a, points[(i + 1) % points.length]]);
    });
    const ys = edges.flatMap(([a, b]) => [a[1], b[1]]);
    const first = Math.max(0, Math.floor(Math.min(...ys)));
    const last = Math.min(height - 1, Math.ceil(Math.max(...ys)));
    const SAMPLES = 8;
    const coverage = new Float32Array(width + 1);
    for (let row = first; row <= last; row++) {
      coverage.fill(0);
      let touched = false;
      for (let sample = 0; sample < SAMPLES; sample++) {
        const y = row + (sample + 0.5) / SAMPLES;
        const crossings = [];
        for (const [a, b] of edges) {
          if (a[1] <= y !== b[1] <= y) {
            const x = a[0] + ((y - a[1]) / (b[1] - a[1])) * (b[0] - a[0]);
            crossings.push({ x, way: b[1] > a[1] ? 1 : -1 });
          }
        }
        crossings.sort((p, q) => p.x - q.x);
        let depth = 0;
        for (let i = 0; i + 1 < crossings.length; i++) {
          depth += rule === 'together' ? crossings[i].way : 1;
          const from = Math.max(0, crossings[i].x);
          const to = Math.min(width, crossings[i + 1].x);
          const inside = rule === 'together' ? depth !== 0 : depth % 2 === 1;
          if (!inside || to <= from) continue;
          touched = true;
          for (let column = Math.floor(from); column < to; column++) {
            coverage[column] += (Math.min(to, column + 1) - Math.max(from, column)) / SAMPLES;
          }
        }
      }
      if (!touched) continue;
      for (let column = 0; column < width; column++) {
        if (coverage[column] > 0) blend(column, row, paint, Math.min(1, coverage[column]) * opacity);
      }
    }
  }

  /** A disc; `softM` widens its edge, for shadows. */
  function disc(at, radiusM, paint, opacity = 1, softM = 0) {
    const [x, y] = toPx(at);
    const radius = radiusM * pixelsPerMetre;
    const soft = Math.max(1, softM * pixelsPerMetre);
    const reach = radius + soft / 2;
    for (let row = Math.max(0, Math.floor(y - reach)); row <= Math.min(height - 1, y + reach); row++) {
      for (
        let column = Math.max(0, Math.floor(x - reach));
        column <= Math.min(width - 1, x + reach);
        column++
      ) {
        const distance = Math.hypot(column + 0.5 - x, row + 0.5 - y);
        const inside = Math.min(1, Math.max(0, (radius - distance) / soft + 0.5));
        blend(column, row, paint, inside * opacity);
      }
    }
  }

  /** A line of a width on the ground. */
  function line(path, widthM, paint, opacity = 1) {
    for (let i = 0; i + 1 < path.length; i++) {
      const [a, b] = [path[i], path[i + 1]];
      const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
      if (length === 0) continue;
      const nx = ((a[1] - b[1]) / length) * (widthM / 2);
      const ny = ((b[0] - a[0]) / length) * (widthM / 2);
      const quad = [
        [a[0] + nx, a[1] + ny],
        [b[0] + nx, b[1] + ny],
        [b[0] - nx, b[1] - ny],
        [a[0] - nx, a[1] - ny],
      ];
      fill([quad], paint, opacity);
    }
  }

  return { width, height, pixels, fill, disc, line };
}
