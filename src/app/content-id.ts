/**
 * SHA-256 of bytes (FIPS 180-4) as lower-case hex. Written out because a browser offers its own only to secure
 * pages, and a plan must also open where the page is served over plain http on a local network.
 */
export function sha256Hex(bytes: Uint8Array): string {
  const state = Uint32Array.from(INITIAL);
  const words = new Uint32Array(64);
  const whole = bytes.length - (bytes.length % 64);
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  for (let at = 0; at < whole; at += 64) mixBlock(state, words, view, at);

  const rest = bytes.length - whole;
  const tail = new Uint8Array(rest < 56 ? 64 : 128);
  tail.set(bytes.subarray(whole));
  tail[rest] = 0x80;
  const tailView = new DataView(tail.buffer);
  // The length in bits as a 64-bit number; 2^32 bits are 512 MB.
  tailView.setUint32(tail.length - 8, Math.floor(bytes.length / 0x20000000));
  tailView.setUint32(tail.length - 4, (bytes.length * 8) >>> 0);
  for (let at = 0; at < tail.length; at += 64) mixBlock(state, words, tailView, at);

  return [...state].map((word) => word.toString(16).padStart(8, '0')).join('');
}

/** Name of a picture: the first 32 hex digits of the SHA-256 of its stored bytes. */
export function pictureIdOf(bytes: Uint8Array): string {
  return sha256Hex(bytes).slice(0, 32);
}

const INITIAL = fractionBits(Math.sqrt, 8);
const ROUND = fractionBits(Math.cbrt, 64);

/** First 32 bits of the fractional parts of the roots of the first primes, as the standard defines them. */
function fractionBits(root: (n: number) => number, count: number): Uint32Array {
  const bits = new Uint32Array(count);
  for (let n = 2, found = 0; found < count; n++) {
    let prime = true;
    for (let d = 2; d * d <= n; d++) if (n % d === 0) prime = false;
    if (prime) {
      const value = root(n);
      bits[found++] = (value - Math.floor(value)) * 2 ** 32;
    }
  }
  return bits;
}

function mixBlock(state: Uint32Array, w: Uint32Array, view: DataView, at: number): void {
  for (let t = 0; t < 16; t++) w[t] = view.getUint32(at + t * 4);
  for (let t = 16; t < 64; t++) {
    const x = w[t - 15]!;
    const y = w[t - 2]!;
    const s0 = ((x >>> 7) | (x << 25)) ^ ((x >>> 18) | (x << 14)) ^ (x >>> 3);
    const s1 = ((y >>> 17) | (y << 15)) ^ ((y >>> 19) | (y << 13)) ^ (y >>> 10);
    w[t] = w[t - 16]! + s0 + w[t - 7]! + s1;
  }
  let [a, b, c, d, e, f, g, h] = state as unknown as [
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
  ];
  for (let t = 0; t < 64; t++) {
    const s1 = ((e >>> 6) | (e << 26)) ^ ((e >>> 11) | (e << 21)) ^ ((e >>> 25) | (e << 7));
    const t1 = (h + s1 + ((e & f) ^ (~e & g)) + ROUND[t]! + w[t]!) | 0;
    const s0 = ((a >>> 2) | (a << 30)) ^ ((a >>> 13) | (a << 19)) ^ ((a >>> 22) | (a << 10));
    const t2 = (s0 + ((a & b) ^ (a & c) ^ (b & c))) | 0;
    [h, g, f, e, d, c, b, a] = [g, f, e, (d + t1) | 0, c, b, a, (t1 + t2) | 0];
  }
  [a, b, c, d, e, f, g, h].forEach((value, i) => (state[i] = state[i]! + value));
}
