/** A checksum of columns of numbers. */

/** Start and prime of the FNV-1a hash of 32 bits (Fowler, Noll and Vo). */
const START = 0x811c9dc5;
const PRIME = 0x01000193;

/**
 * A checksum of numbers by their bits: one file read in another unit, sign or scale has the same
 * hash and other numbers.
 *
 * Source: FNV-1a over words of 32 bits; the shift is our own. Without it a sign, which is the top
 * bit of a word, would stay there, and two turned signs would cancel.
 */
export function checksum(values: Float64Array): number {
  const words = new Uint32Array(values.buffer, values.byteOffset, 2 * values.length);
  const paired = words.length & ~3;
  // Four at a time beside each other: one sum alone waits for each of its multiplications.
  let [sum0, sum1, sum2, sum3] = [START, START + 1, START + 2, START + 3];
  for (let i = 0; i < paired; i += 4) {
    const mixed0 = Math.imul(sum0 ^ words[i]!, PRIME);
    const mixed1 = Math.imul(sum1 ^ words[i + 1]!, PRIME);
    const mixed2 = Math.imul(sum2 ^ words[i + 2]!, PRIME);
    const mixed3 = Math.imul(sum3 ^ words[i + 3]!, PRIME);
    sum0 = mixed0 ^ (mixed0 >>> 15);
    sum1 = mixed1 ^ (mixed1 >>> 15);
    sum2 = mixed2 ^ (mixed2 >>> 15);
    sum3 = mixed3 ^ (mixed3 >>> 15);
  }
  let sum = START;
  for (const word of [sum0, sum1, sum2, sum3, ...words.subarray(paired)]) {
    const mixed = Math.imul(sum ^ word, PRIME);
    sum = mixed ^ (mixed >>> 15);
  }
  return sum >>> 0;
}
