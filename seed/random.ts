/**
 * A small seeded generator of random numbers.
 *
 * Only integer operations, additions and one division by a power of two are used, so the same seed
 * gives the same digits on every engine. (Math.sin, Math.log and the like may differ in the last
 * digit between two versions of Node; nothing in the simulator calls them.)
 */

export type RandomSource = Readonly<{
  /** Uniform in [0, 1). */
  uniform: () => number;
  /** About normal, mean 0, standard deviation 1, never beyond 6. */
  normal: () => number;
}>;

function rotateLeft(word: number, bits: number): number {
  return (word << bits) | (word >>> (32 - bits));
}

/** Spreads one 32-bit seed over the words of the state. */
function makeSeeder(seed: number): () => number {
  let word = seed >>> 0;
  return () => {
    word = (word + 0x9e3779b9) >>> 0;
    let mixed = word;
    mixed = Math.imul(mixed ^ (mixed >>> 16), 0x21f0aaad);
    mixed = Math.imul(mixed ^ (mixed >>> 15), 0x735a2d97);
    return (mixed ^ (mixed >>> 15)) >>> 0;
  };
}

/**
 * A generator for one purpose (one sensor, one axis), apart from all others of another seed.
 *
 * `normal` is the sum of twelve uniform numbers less six: variance 1 exactly, tails cut at 6.
 *
 * Source: Blackman & Vigna, "Scrambled linear pseudorandom number generators" (2018), xoshiro128**.
 */
export function makeRandom(seed: number): RandomSource {
  const next = makeSeeder(seed);
  let s0 = next();
  let s1 = next();
  let s2 = next();
  let s3 = next();
  const uniform = (): number => {
    const word = Math.imul(rotateLeft(Math.imul(s1, 5), 7), 9) >>> 0;
    const shifted = s1 << 9;
    s2 ^= s0;
    s3 ^= s1;
    s1 ^= s2;
    s0 ^= s3;
    s2 ^= shifted;
    s3 = rotateLeft(s3, 11);
    return word / 4294967296;
  };
  const normal = (): number => {
    let sum = -6;
    for (let count = 0; count < 12; count += 1) sum += uniform();
    return sum;
  };
  return { uniform, normal };
}
