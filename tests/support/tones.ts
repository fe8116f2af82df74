/** A small recording made here: a WAV file of tones, one a second, so that no real one is kept. */

const HZ = 8000;

/** `lengthS` seconds of 8-bit mono PCM: 220 Hz in the first second, 275 Hz in the second, and so on. */
export function tonesWav(lengthS: number): Buffer {
  const samples = Buffer.alloc(Math.round(lengthS * HZ));
  for (let at = 0; at < samples.length; at++) {
    const hz = 220 + 55 * (Math.floor(at / HZ) % 8);
    samples[at] = 128 + Math.round(90 * Math.sin((2 * Math.PI * hz * at) / HZ));
  }
  const head = Buffer.alloc(44);
  head.write('RIFF', 0, 'latin1');
  head.writeUInt32LE(36 + samples.length, 4);
  head.write('WAVEfmt ', 8, 'latin1');
  head.writeUInt32LE(16, 16);
  head.writeUInt16LE(1, 20); // PCM
  head.writeUInt16LE(1, 22);
  head.writeUInt32LE(HZ, 24);
  head.writeUInt32LE(HZ, 28);
  head.writeUInt16LE(1, 32);
  head.writeUInt16LE(8, 34);
  head.write('data', 36, 'latin1');
  head.writeUInt32LE(samples.length, 40);
  return Buffer.concat([head, samples]);
}
