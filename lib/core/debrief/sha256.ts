/** SHA-256 in plain TypeScript: the core asks no platform for it, so a record's hash is pure. */

const BLOCK_BYTES = 64;

/** First 32 bits of the fractional parts of the cube roots of the first 64 primes; FIPS 180-4, 4.2.2. */
const ROUND_CONSTANTS = fractionWords(64, Math.cbrt);

/** The same of the square roots of the first 8 primes; FIPS 180-4, 5.3.3. */
const INITIAL_STATE = fractionWords(8, Math.sqrt);

function firstPrimes(count: number): readonly number[] {
  const primes: number[] = [];
  for (let candidate = 2; primes.length < count; candidate += 1) {
    if (primes.every((prime) => candidate % prime !== 0)) primes.push(candidate);
  }
  return primes;
}

function fractionWords(count: number, root: (prime: number) => number): Uint32Array {
  return Uint32Array.from(firstPrimes(count), (prime) => Math.floor((root(prime) % 1) * 2 ** 32));
}

function rotateRight(word: number, bits: number): number {
  return (word >>> bits) | (word << (32 - bits));
}

/** The message with a one bit, zeros and its length in bits, a whole number of blocks. */
function padded(bytes: Uint8Array): DataView {
  const blocks = Math.ceil((bytes.length + 9) / BLOCK_BYTES);
  const whole = new Uint8Array(blocks * BLOCK_BYTES);
  whole.set(bytes);
  whole[bytes.length] = 0x80;
  const view = new DataView(whole.buffer);
  view.setBigUint64(whole.length - 8, BigInt(bytes.length) * 8n);
  return view;
}

function fillSchedule(schedule: Int32Array, view: DataView, offset: number): void {
  for (let t = 0; t < 16; t += 1) schedule[t] = view.getInt32(offset + 4 * t);
  for (let t = 16; t < 64; t += 1) {
    const w15 = schedule[t - 15] ?? 0;
    const w2 = schedule[t - 2] ?? 0;
    const small0 = rotateRight(w15, 7) ^ rotateRight(w15, 18) ^ (w15 >>> 3);
    const small1 = rotateRight(w2, 17) ^ rotateRight(w2, 19) ^ (w2 >>> 10);
    schedule[t] = ((schedule[t - 16] ?? 0) + small0 + (schedule[t - 7] ?? 0) + small1) | 0;
  }
}

/**
 * SHA-256 of bytes.
 *
 * @param bytes the message, shorter than 2^53 bits
 * @returns 64 lower-case hexadecimal digits
 *
 * Source: FIPS PUB 180-4, Secure Hash Standard (2015), section 6.2; names of variables as there.
 */
export function sha256Hex(bytes: Uint8Array): string {
  const view = padded(bytes);
  const state = Int32Array.from(INITIAL_STATE);
  const schedule = new Int32Array(64);
  for (let offset = 0; offset < view.byteLength; offset += BLOCK_BYTES) {
    fillSchedule(schedule, view, offset);
    let [a = 0, b = 0, c = 0, d = 0, e = 0, f = 0, g = 0, h = 0] = state;
    for (let t = 0; t < 64; t += 1) {
      const sum1 = rotateRight(e, 6) ^ rotateRight(e, 11) ^ rotateRight(e, 25);
      const choice = (e & f) ^ (~e & g);
      const t1 = (h + sum1 + choice + (ROUND_CONSTANTS[t] ?? 0) + (schedule[t] ?? 0)) | 0;
      const sum0 = rotateRight(a, 2) ^ rotateRight(a, 13) ^ rotateRight(a, 22);
      const majority = (a & b) ^ (a & c) ^ (b & c);
      [h, g, f, e, d, c, b, a] = [g, f, e, (d + t1) | 0, c, b, a, (t1 + sum0 + majority) | 0];
    }
    [a, b, c, d, e, f, g, h].forEach((word, index) => {
      state[index] = ((state[index] ?? 0) + word) | 0;
    });
  }
  return Array.from(state, (word) => (word >>> 0).toString(16).padStart(8, '0')).join('');
}

/** SHA-256 of a text's UTF-8 bytes, as lower-case hexadecimal. */
export function sha256OfText(text: string): string {
  return sha256Hex(new TextEncoder().encode(text));
}

/** SHA-256 of a text as a content security policy writes it: `sha256-` and base64. */
export function policyHash(text: string): string {
  const bytes = (sha256OfText(text).match(/../g) ?? []).map((pair) => Number.parseInt(pair, 16));
  return `sha256-${btoa(String.fromCharCode(...bytes))}`;
}
