/**
 * Source: FIPS PUB 180-2, Secure Hash Standard (2002), appendix B, whose examples FIPS 180-4 refers to:
 * one block, two blocks, one million times `a` (from memory; each agrees with Node's own hash here).
 */
import { createHash } from 'node:crypto';
import { expect, test } from 'vitest';
import { policyHash, sha256Hex, sha256OfText } from '@/lib/core/debrief/sha256';
import { seededRandom } from '../support/seeded-random';

const EXAMPLES: readonly (readonly [message: string, digest: string])[] = [
  ['abc', 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad'],
  [
    'abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq',
    '248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1',
  ],
  ['a'.repeat(1_000_000), 'cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0'],
];

test.each(EXAMPLES)('the example %.20s has the printed digest', (message, digest) => {
  expect(sha256OfText(message)).toBe(digest);
});

test('every length around the edges of a block agrees with the platform', () => {
  const random = seededRandom(8);
  for (let length = 0; length < 200; length += 1) {
    const bytes = Uint8Array.from({ length }, () => Math.floor(random() * 256));
    expect(sha256Hex(bytes)).toBe(createHash('sha256').update(bytes).digest('hex'));
  }
});

test('a policy writes the digest in base64', () => {
  const expected = createHash('sha256').update('alert(1)').digest('base64');
  expect(policyHash('alert(1)')).toBe(`sha256-${expected}`);
});
