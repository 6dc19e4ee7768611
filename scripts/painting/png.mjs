import { deflateSync } from 'node:zlib';

/** An RGB picture as a PNG file (W3C PNG specification); each row takes the filter that leaves the least. */
export function encodePng({ width, height, pixels }) {
  const stride = width * 3;
  const filtered = Buffer.alloc(height * (stride + 1));
  const candidates = [0, 1, 2, 4].map((type) => ({ type, row: Buffer.alloc(stride) }));
  for (let y = 0; y < height; y++) {
    const row = pixels.subarray(y * stride, (y + 1) * stride);
    const above = y > 0 ? pixels.subarray((y - 1) * stride, y * stride) : new Uint8Array(stride);
    let best = candidates[0];
    let least = Infinity;
    for (const candidate of candidates) {
      let sum = 0;
      for (let i = 0; i < stride; i++) {
        const left = i >= 3 ? row[i - 3] : 0;
        const value = (row[i] - predict(candidate.type, left, above[i], i >= 3 ? above[i - 3] : 0)) & 255;
        candidate.row[i] = value;
        sum += value < 128 ? value : 256 - value;
      }
      if (sum < least) [best, least] = [candidate, sum];
    }
    filtered[y * (stride + 1)] = best.type;
    best.row.copy(filtered, y * (stride + 1) + 1);
  }
  const header = Buffer.alloc(13);
  header.writeUInt32BE(width, 0);
  header.writeUInt32BE(height, 4);
  header.set([8, 2, 0, 0, 0], 8);
  return Buffer.concat([
    Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]),
    chunk('IHDR', header),
    chunk('IDAT', deflateSync(filtered, { level: 9 })),
    chunk('IEND', Buffer.alloc(0)),
  ]);
}

/** Filter types 0 none, 1 sub, 2 up, 4 Paeth. */
function predict(type, left, up, upLeft) {
  if (type === 0) return 0;
  if (type === 1) return left;
  if (type === 2) return up;
  const estimate = left + up - upLeft;
  const [a, b, c] = [Math.abs(estimate - left), Math.abs(estimate - up), Math.abs(estimate - upLeft)];
  if (a <= b && a <= c) return left;
  return b <= c ? up : upLeft;
}

function chunk(name, data) {
  const body = Buffer.concat([Buffer.from(name, 'latin1'), data]);
  const framed = Buffer.alloc(body.length + 8);
  framed.writeUInt32BE(data.length, 0);
  body.copy(framed, 4);
  framed.writeUInt32BE(crc32(body), body.length + 4);
  return framed;
}

const CRC_TABLE = Uint32Array.from({ length: 256 }, (_, n) => {
  let c = n;
  for (let bit = 0; bit < 8; bit++) c = c & 1 ? 0xedb88320 ^ (c >>> 1) : c >>> 1;
  return c;
});

/** CRC-32 of the PNG specification, annex D. */
function crc32(bytes) {
  let crc = 0xffffffff;
  for (const byte of bytes) crc = CRC_TABLE[(crc ^ byte) & 255] ^ (crc >>> 8);
  return (crc ^ 0xffffffff) >>> 0;
}
