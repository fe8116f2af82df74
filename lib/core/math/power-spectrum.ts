/** Power spectral density by averaged, overlapping, windowed pieces. */

/** One-sided density over frequency: `powerPerHz` in the square of the values' unit per hertz. */
export type PowerSpectrum = Readonly<{ frequencyHz: Float64Array; powerPerHz: Float64Array }>;

/** `re` and `im` are changed in place; the length is a power of two. */
function fourierInPlace(re: Float64Array, im: Float64Array): void {
  const n = re.length;
  for (let i = 1, j = 0; i < n; i++) {
    let bit = n >> 1;
    for (; (j & bit) !== 0; bit >>= 1) j ^= bit;
    j ^= bit;
    if (i >= j) continue;
    [re[i], re[j]] = [re[j]!, re[i]!];
    [im[i], im[j]] = [im[j]!, im[i]!];
  }
  for (let size = 2; size <= n; size <<= 1) {
    const half = size >> 1;
    for (let k = 0; k < half; k++) {
      const angle = (-2 * Math.PI * k) / size;
      const [c, s] = [Math.cos(angle), Math.sin(angle)];
      for (let i = k; i < n; i += size) {
        const j = i + half;
        const [tr, ti] = [re[j]! * c - im[j]! * s, re[j]! * s + im[j]! * c];
        re[j] = re[i]! - tr;
        im[j] = im[i]! - ti;
        re[i] = re[i]! + tr;
        im[i] = im[i]! + ti;
      }
    }
  }
}

/** Square of the size of each frequency up to half the length, by sums: for lengths of any kind. */
function squaresBySums(values: Float64Array, count: number): Float64Array {
  return Float64Array.from({ length: count }, (_, k) => {
    let [re, im] = [0, 0];
    for (let i = 0; i < values.length; i++) {
      const angle = (-2 * Math.PI * ((k * i) % values.length)) / values.length;
      re += values[i]! * Math.cos(angle);
      im += values[i]! * Math.sin(angle);
    }
    return re * re + im * im;
  });
}

function squares(values: Float64Array, count: number): Float64Array {
  const n = values.length;
  if ((n & (n - 1)) !== 0) return squaresBySums(values, count);
  const re = values.slice();
  const im = new Float64Array(n);
  fourierInPlace(re, im);
  return Float64Array.from({ length: count }, (_, k) => re[k]! ** 2 + im[k]! ** 2);
}

/** Periodic Hann window. */
function hann(length: number): Float64Array {
  return Float64Array.from({ length }, (_, i) => 0.5 - 0.5 * Math.cos((2 * Math.PI * i) / length));
}

/**
 * Welch's estimate: pieces that overlap by half, each without its mean, under a periodic Hann window;
 * one-sided density.
 *
 * @param values evenly sampled, without NaN
 * @param rateHz samples a second
 * @param pieceLength samples a piece, at least 2; cut to the length of `values`. A power of two is quick
 * @returns frequencies from 0 to half the rate; empty for fewer than two values
 *
 * Source: P. D. Welch, "The use of fast Fourier transform for the estimation of power spectra", IEEE
 * Trans. Audio and Electroacoustics 15 (1967) 70.
 */
export function welchSpectrum(
  values: Float64Array,
  rateHz: number,
  pieceLength: number,
): PowerSpectrum {
  const length = Math.min(pieceLength, values.length);
  if (length < 2) return { frequencyHz: new Float64Array(0), powerPerHz: new Float64Array(0) };
  const count = (length >> 1) + 1;
  const window = hann(length);
  const windowPower = window.reduce((sum, each) => sum + each * each, 0);
  const powerPerHz = new Float64Array(count);
  const step = length - (length >> 1);
  let pieces = 0;
  for (let from = 0; from + length <= values.length; from += step) {
    const piece = values.subarray(from, from + length);
    const mean = piece.reduce((sum, each) => sum + each, 0) / length;
    const found = squares(
      piece.map((each, i) => (each - mean) * window[i]!),
      count,
    );
    for (let k = 0; k < count; k++) powerPerHz[k] = powerPerHz[k]! + found[k]!;
    pieces++;
  }
  for (let k = 0; k < count; k++) {
    // Zero and, for even lengths, half the rate have no twin at a negative frequency.
    const sides = k === 0 || (length % 2 === 0 && k === count - 1) ? 1 : 2;
    powerPerHz[k] = (sides * powerPerHz[k]!) / (pieces * windowPower * rateHz);
  }
  return { frequencyHz: powerPerHz.map((_, k) => (k * rateHz) / length), powerPerHz };
}
