/**
 * Envelopes that were read lately, kept in memory: folders never change, so what was read once stays true. The
 * whole session is asked for at every visit, and the windows beside it by whoever goes back and forth.
 */
import path from 'node:path';
import { type Envelope, type EnvelopeQuery, readEnvelope } from './read-envelope';

const MOST_KEPT_NUMBERS = 4_000_000;
const SIDES = 3;
/** What an entry weighs beside its numbers: its name and its columns'. */
const ENTRY_NUMBERS = 256;

type Kept = Readonly<{ envelope: Promise<Envelope>; numbers: number }>;

const kept = new Map<string, Kept>();
let keptNumbers = 0;

/** As `readEnvelope`; nobody may change what is returned. */
export function keptEnvelope(
  samplesRoot: string,
  folder: string,
  query: EnvelopeQuery,
): Promise<Envelope> {
  const { columns, fromS, toS, pixels } = query;
  const key = JSON.stringify([path.resolve(samplesRoot, folder), columns, fromS, toS, pixels]);
  const found = kept.get(key);
  if (found !== undefined) {
    kept.delete(key);
    kept.set(key, found);
    return found.envelope;
  }
  const envelope = readEnvelope(samplesRoot, folder, query);
  const numbers = ENTRY_NUMBERS + SIDES * columns.length * pixels;
  kept.set(key, { envelope, numbers });
  keptNumbers += numbers;
  envelope.catch(() => forget(key));
  // The newest stays, however large it is: it is being answered with.
  while (keptNumbers > MOST_KEPT_NUMBERS && kept.size > 1) forget(kept.keys().next().value ?? key);
  return envelope;
}

function forget(key: string): void {
  const found = kept.get(key);
  if (found === undefined) return;
  kept.delete(key);
  keptNumbers -= found.numbers;
}
