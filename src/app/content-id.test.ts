import { createHash } from 'node:crypto';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { pictureIdOf, sha256Hex } from './content-id.ts';

const bytesOf = (text: string) => new TextEncoder().encode(text);

describe('the name of a picture', () => {
  // Source: FIPS 180-4 example messages (NIST, SHA256.pdf of the examples with intermediate values).
  test.each([
    ['abc', 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad'],
    [
      'abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq',
      '248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1',
    ],
  ])('of the published message %j', (message, hash) => {
    expect(sha256Hex(bytesOf(message))).toBe(hash);
  });

  test('agrees with another implementation at every length around the block size, and on slices', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 300 }), fc.nat(20), (bytes, from) => {
        const slice = bytes.subarray(Math.min(from, bytes.length));
        expect(sha256Hex(slice)).toBe(createHash('sha256').update(slice).digest('hex'));
      }),
      { seed: 20261125, numRuns: 400 },
    );
  });

  test('is 32 hex digits', () => {
    expect(pictureIdOf(bytesOf('abc'))).toBe('ba7816bf8f01cfea414140de5dae2223');
  });
});
