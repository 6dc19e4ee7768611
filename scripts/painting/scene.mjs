import { createPainter, noise, numbers, tones } from './raster.mjs';

/** Light falls from the upper left, as drawings have it; shadows go down and right. */
const SHADOW = [54, 58, 60];
const shadowOf = (ring, heightM) => sweep(ring, [heightM * 0.55, -heightM * 0.45]);

const grass = tones(
  [
    [131, 146, 101],
    [136, 151, 105],
    [140, 155, 108],
    [145, 159, 112],
  ],
  mix(noise(1, 0.9), noise(2, 0.22)),
);
/** Faint stripes of the mower, 0.6 m wide. */
const mown = (x, y) => {
  const [r, g, b] = grass(x, y);
  return Math.floor((x + 0.08 * y) / 0.6) % 2 ? [r, g, b] : [r + 6, g + 6, b + 4];
};
const bark = tones(
  [
    [104, 84, 68],
    [112, 91, 73],
    [119, 97, 78],
  ],
  mix(noise(3, 0.35), noise(4, 0.09)),
);
const concrete = tones(
  [
    [190, 187, 179],
    [192, 189, 181],
    [194, 191, 184],
  ],
  noise(5, 1.1),
);
const asphalt = tones(
  [
    [120, 121, 122],
    [125, 126, 127],
  ],
  noise(6, 0.7),
);

/**
 * Paints the demo site as seen from above.
 * @param site the exports of src/app/demo-site.ts
 * @param pixelsPerMetre 80 for the picture of the app; fewer for tests
 */
export function paintSite(site, pixelsPerMetre = 1 / site.DEMO_PICTURE.metresPerPixel) {
  const { widthPx, heightPx, metresPerPixel } = site.DEMO_PICTURE;
  const brush = createPainter({
    widthM: widthPx * metresPerPixel,
    heightM: heightPx * metresPerPixel,
    pixelsPerMetre,
  });
  const random = numbers(20261125);
  ground(brush, site);
  beds(brush, site, random);
  basin(brush, site);
  walk(brush, site, random);
  const [back, a, b, c, d] = site.HOUSE;
  const blocks = [
    [back, a, b, [b[0], back[1]]],
    [c, d, [d[0], back[1]], [c[0], back[1]]],
  ];
  brush.fill(
    blocks.map((block) => shadowOf(block, 1.1)),
    SHADOW,
    0.32,
    'together',
  );
  house(brush, site);
  for (const plant of [...site.DEMO_PLANTS].sort((a, b) => a.canopyNowM - b.canopyNowM)) {
    PLANTING[plant.plantClass](brush, plant.at, plant.canopyNowM / 2, random);
  }
  for (const at of site.DEMO_HEADS) {
    brush.disc(at, 0.07, [58, 58, 56]);
    brush.disc(at, 0.035, [110, 110, 106]);
  }
  valveBox(brush, site.DEMO_VALVE);
  hedge(brush, random);
  return brush;
}

function ground(brush, site) {
  const everywhere = [
    [0, 0],
    [25, 0],
    [25, 18.75],
    [0, 18.75],
  ];
  brush.fill([everywhere], mown);
  brush.fill([site.STREET], asphalt);
  brush.fill([site.SIDEWALK], concrete);
  brush.line(
    [
      [0, 0.62],
      [25, 0.62],
    ],
    0.15,
    [176, 174, 168],
  );
  for (let x = 1.2; x < 25; x += 1.5) {
    brush.line(
      [
        [x, 0.7],
        [x, 1.9],
      ],
      0.02,
      [158, 155, 148],
    );
  }
  brush.fill([site.DRIVEWAY], concrete);
  for (const y of [1.9, 4.0, 6.1, 8.2]) {
    brush.line(
      [
        [15.2, y],
        [21.2, y],
      ],
      0.025,
      [160, 157, 150],
    );
  }
  brush.line(
    [
      [18.2, 0.7],
      [18.2, 10.4],
    ],
    0.025,
    [160, 157, 150],
  );
}

function beds(brush, site, random) {
  for (const rings of [[site.HOUSE_BED], [site.WALK_BED], [site.ROUND_BED]]) {
    brush.fill(rings, bark);
    const [minX, minY, maxX, maxY] = box(rings[0]);
    const chips = Math.round((maxX - minX) * (maxY - minY) * 45);
    for (let i = 0; i < chips; i++) {
      const at = [minX + random() * (maxX - minX), minY + random() * (maxY - minY)];
      const turn = random() * Math.PI;
      const half = 0.02 + random() * 0.03;
      const tip = [at[0] + Math.cos(turn) * half, at[1] + Math.sin(turn) * half];
      const foot = [at[0] - Math.cos(turn) * half, at[1] - Math.sin(turn) * half];
      const light = random() < 0.5;
      if (!contains(rings[0], at) || !contains(rings[0], tip) || !contains(rings[0], foot)) continue;
      brush.line([foot, tip], 0.02, light ? [141, 116, 94] : [86, 68, 55], 0.8);
    }
    // The cut edge of the turf, inside the traced line.
    brush.line([...rings[0], rings[0][0]], 0.05, [84, 74, 58], 0.75);
  }
}

function basin(brush, site) {
  const [minX, minY, maxX, maxY] = box(site.BASIN);
  const centre = [(minX + maxX) / 2, (minY + maxY) / 2];
  const radius = (maxX - minX) / 2;
  brush.disc([centre[0] + 0.09, centre[1] - 0.08], radius, SHADOW, 0.4, 0.12);
  brush.fill([site.BASIN], [174, 171, 164]);
  brush.disc(centre, radius * 0.74, [126, 131, 131]);
  brush.disc([centre[0] + 0.02, centre[1] - 0.02], radius * 0.68, [138, 160, 168]);
  brush.disc([centre[0] - 0.12, centre[1] + 0.12], radius * 0.24, [166, 184, 190], 0.7, 0.12);
}

/** Flagstones in courses of uneven height, the joints staggered. */
function walk(brush, site, random) {
  brush.fill([site.WALK], [148, 143, 133]);
  const [minX, minY, maxX, maxY] = box(site.WALK);
  const joint = 0.018;
  for (let y = minY; y < maxY - 0.05;) {
    const top = Math.min(maxY, y + 0.38 + random() * 0.25);
    for (let x = minX; x < maxX - 0.05;) {
      let right = x + 0.4 + random() * 0.35;
      if (maxX - right < 0.3) right = maxX;
      const tone = 168 + Math.round(random() * 4) * 7;
      const stone = [
        [x + joint, y + joint],
        [right - joint, y + joint],
        [right - joint, top - joint],
        [x + joint, top - joint],
      ];
      brush.fill([stone], [tone, tone - 4, tone - 12]);
      x = right;
    }
    y = top;
  }
}

/** Hipped roofs: each plane in its own light, shingle courses as fine lines. */
function house(brush, site) {
  const [, a, b, c, d] = site.HOUSE;
  const top = 18.75;
  const planes = [
    // The garage's south, west and east planes, then the house's.
    { ring: [c, d, [18.3, 14.7]], colour: [139, 128, 120] },
    { ring: [c, [18.3, 14.7], [18.3, top], [14, top]], colour: [158, 147, 138] },
    { ring: [d, [d[0], top], [18.3, top], [18.3, 14.7]], colour: [122, 112, 106] },
    { ring: [a, b, [14, 13.4], [14, 17.2], [5.3, 17.2]], colour: [146, 134, 126] },
    { ring: [a, [5.3, 17.2], [5.3, top], [1.5, top]], colour: [163, 152, 143] },
    {
      ring: [
        [5.3, 17.2],
        [14, 17.2],
        [14, top],
        [5.3, top],
      ],
      colour: [156, 145, 136],
    },
  ];
  for (const { ring, colour } of planes) brush.fill([ring], colour);
  const dark = [112, 102, 96];
  for (let y = 13.75; y < 17.2; y += 0.35) {
    brush.line(
      [
        [1.5 + (y - 13.4), y],
        [14, y],
      ],
      0.015,
      dark,
      0.45,
    );
  }
  for (let y = 10.75; y < 14.7; y += 0.35) {
    brush.line(
      [
        [14 + (y - 10.4), y],
        [22.6 - (y - 10.4), y],
      ],
      0.015,
      dark,
      0.45,
    );
  }
  const ridge = [178, 168, 160];
  for (const path of [
    [a, [5.3, 17.2], [14, 17.2]],
    [c, [18.3, 14.7], [18.3, top]],
    [d, [18.3, 14.7]],
  ]) {
    brush.line(path, 0.06, ridge, 0.8);
  }
  // The eaves, a chimney and a vent.
  brush.line([[1.5, top], a, b, c, d, [d[0], top]], 0.09, [214, 210, 203]);
  brush.fill([shadowOf(square([9.2, 15.6], 0.35), 0.7)], SHADOW, 0.3);
  brush.fill([square([9.2, 15.6], 0.35)], [150, 116, 102]);
  brush.fill([square([9.2, 15.6], 0.2)], [70, 62, 58]);
  brush.disc([20.4, 14.2], 0.12, [96, 92, 90]);
}

function valveBox(brush, at) {
  const lid = [
    [at[0] - 0.24, at[1] - 0.16],
    [at[0] + 0.24, at[1] - 0.16],
    [at[0] + 0.24, at[1] + 0.16],
    [at[0] - 0.24, at[1] + 0.16],
  ];
  brush.fill([lid], [70, 88, 66]);
  brush.line([...lid, lid[0]], 0.03, [52, 66, 50]);
}

function hedge(brush, random) {
  const plants = Array.from({ length: 9 }, (_, i) => [24.35, 2.9 + i * 0.95]);
  for (const at of plants) foliage(brush, at, 0.55, random, HEDGE, 0.5);
}

const HEDGE = { deep: [66, 84, 58], leaf: [88, 108, 72], light: [116, 134, 92] };
const EVERGREEN = { deep: [58, 82, 60], leaf: [78, 106, 76], light: [112, 137, 100] };
const SAGE = { deep: [104, 116, 100], leaf: [134, 146, 126], light: [162, 170, 150] };
const THYME = { deep: [88, 104, 70], leaf: [112, 127, 86], light: [138, 150, 106] };
const TREE = { deep: [72, 92, 56], leaf: [98, 120, 74], light: [134, 152, 100] };

const PLANTING = {
  shrub: (brush, at, radius, random) => foliage(brush, at, radius, random, EVERGREEN, 0.5),
  perennial(brush, at, radius, random) {
    foliage(brush, at, radius, random, SAGE, 0.2);
    specks(brush, at, radius * 0.8, 14, [132, 112, 158], random);
  },
  groundcover(brush, at, radius, random) {
    foliage(brush, at, radius, random, THYME, 0.06);
    specks(brush, at, radius * 0.85, 18, [190, 160, 176], random);
  },
  tree(brush, at, radius, random) {
    foliage(brush, at, radius, random, TREE, 1.1);
    specks(brush, at, radius * 0.9, 90, [226, 214, 204], random);
  },
};

/** A crown as layers of leaf clumps, dark below and lighter toward the light. */
function foliage(brush, at, radius, random, colours, heightM) {
  const around = (spread) => {
    const [turn, far] = [random() * 2 * Math.PI, Math.sqrt(random()) * spread];
    return [at[0] + Math.cos(turn) * far, at[1] + Math.sin(turn) * far];
  };
  brush.disc(
    [at[0] + heightM * 0.28, at[1] - heightM * 0.24],
    radius * 0.96,
    SHADOW,
    0.42,
    0.12 + heightM * 0.12,
  );
  const clump = Math.min(0.14, radius * 0.24);
  const count = Math.round(26 + (radius / clump) ** 2 * 3.2);
  brush.disc(at, radius * 0.86, colours.deep);
  for (let i = 0; i < count; i++)
    brush.disc(around(radius * 0.86), clump * (0.7 + random() * 0.5), colours.deep);
  for (let i = 0; i < count; i++) {
    const [x, y] = around(radius * 0.8);
    brush.disc([x - radius * 0.06, y + radius * 0.06], clump * (0.45 + random() * 0.35), colours.leaf);
  }
  for (let i = 0; i < count * 0.7; i++) {
    const [x, y] = around(radius * 0.62);
    brush.disc([x - radius * 0.2, y + radius * 0.2], clump * (0.22 + random() * 0.22), colours.light);
  }
}

function specks(brush, at, radius, count, colour, random) {
  for (let i = 0; i < count; i++) {
    const [turn, far] = [random() * 2 * Math.PI, Math.sqrt(random()) * radius];
    brush.disc(
      [at[0] + Math.cos(turn) * far, at[1] + Math.sin(turn) * far],
      0.018 + random() * 0.014,
      colour,
    );
  }
}

function mix(coarse, fine) {
  return (x, y) => coarse(x, y) * 0.65 + fine(x, y) * 0.35;
}

function square([x, y], half) {
  return [
    [x - half, y - half],
    [x + half, y - half],
    [x + half, y + half],
    [x - half, y + half],
  ];
}

/** Outline of a ring moved along a way: for a ring with few corners its hull of both ends serves as the shadow. */
function sweep(ring, [dx, dy]) {
  return hull([...ring, ...ring.map(([x, y]) => [x + dx, y + dy])]);
}

function hull(points) {
  const sorted = [...points].sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const half = (list) => {
    const chain = [];
    for (const p of list) {
      while (chain.length > 1 && turnOf(chain.at(-2), chain.at(-1), p) <= 0) chain.pop();
      chain.push(p);
    }
    return chain.slice(0, -1);
  };
  return [...half(sorted), ...half(sorted.reverse())];
}

function turnOf(a, b, c) {
  return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
}

function contains(ring, [x, y]) {
  let inside = false;
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    const [a, b] = [ring[i], ring[j]];
    if (a[1] > y !== b[1] > y && x < a[0] + ((y - a[1]) / (b[1] - a[1])) * (b[0] - a[0])) inside = !inside;
  }
  return inside;
}

function box(ring) {
  const xs = ring.map((p) => p[0]);
  const ys = ring.map((p) => p[1]);
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
}
