/** A data package computed again: each cited number from its session folder, beside what was published. */
import { createHash } from 'node:crypto';
import { rmSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { availableParallelism } from 'node:os';
import path from 'node:path';
import { readManifest } from '@/lib/core/debrief/package/manifest';
import {
  type NumberDifference,
  polledInstants,
  type Recomputed,
  recomputeRecord,
} from '@/lib/core/debrief/package/recompute-record';
import { type DebriefRecord, recordLabel } from '@/lib/core/debrief/record';
import { verifyRecord } from '@/lib/core/debrief/verify-record';
import type { ChannelSamples } from '@/lib/core/findings/stretch-rows';
import { reconstruct } from '@/lib/core/reconstruction/reconstruct';
import type { Reconstruction } from '@/lib/core/reconstruction/reconstruction';
import { stateAtPoll } from '@/lib/core/reconstruction/state-at-poll';
import { formatIssue, plainLine } from '@/lib/core/result';
import type { SessionInput } from '@/lib/core/session/session-input';
import { hashFile, isSystemError } from '@/lib/server/samples/durable-files';
import { readSessionFolder } from '@/lib/server/session-folder';
import { unzip } from '@/lib/server/uploads/unzip';
import { makeStore } from './run-store';

const DIFFERS = 1;
const BAD_INPUT = 2;
/** Most differences that are named. */
const MOST_NAMED = 20;

function complain(...lines: readonly string[]): number {
  for (const line of lines) console.error(plainLine(line));
  return BAD_INPUT;
}

/** Names of files whose bytes are not those that the package lists. */
async function changedFiles(folder: string): Promise<readonly string[]> {
  const text = await readFile(path.join(folder, 'SHA256SUMS'), 'utf8').catch(() => '');
  const entries = readManifest(text);
  if (entries === null) return ['SHA256SUMS'];
  const changed: string[] = [];
  for (const { name, sha256 } of entries) {
    const file = path.resolve(folder, name);
    if (!file.startsWith(`${folder}${path.sep}`)) changed.push(name);
    else {
      try {
        if ((await hashFile(file)).sha256 !== sha256) changed.push(name);
      } catch {
        changed.push(name); // it is not there, or cannot be read
      }
    }
  }
  return changed;
}

async function readSession(folder: string, samplesRoot: string): Promise<SessionInput | null> {
  const read = await readSessionFolder(folder, {
    samplesRoot,
    signal: new AbortController().signal,
    threads: availableParallelism(),
    original: 'leave',
    onProgress: () => undefined,
  });
  for (const issue of read.issues.filter(({ severity }) => severity === 'error')) {
    console.error(formatIssue(issue));
  }
  return read.input;
}

/** The channels of all telemetry, on session time. */
function channelsOf(
  input: SessionInput,
  reconstruction: Reconstruction,
): readonly ChannelSamples[] {
  return input.sources.flatMap((source): readonly ChannelSamples[] => {
    if (source.type !== 'telemetry') return [];
    const clock = reconstruction.sources.find(({ file }) => file === source.file)?.clock;
    const offsetS = clock?.offsetS.value ?? 0;
    const rate = 1 + (clock?.driftPpm.value ?? 0) * 1e-6;
    const tS = source.tS.map((ownS) => offsetS + rate * ownS);
    return source.channels.map((channel) => ({ ...channel, source: source.file, tS }));
  });
}

const shownNumber = (value: number | null) => (value === null ? 'not known' : String(value));

function differenceLine({ key, recorded, computed, unit }: NumberDifference): string {
  return `differs: ${key}: published ${shownNumber(recorded)}, computed again ${shownNumber(computed)} ${unit}`;
}

function report(record: DebriefRecord, computed: Recomputed, engine: string): number {
  const { compared, largest, differing, notComputed } = computed;
  for (const each of differing.slice(0, MOST_NAMED)) console.log(plainLine(differenceLine(each)));
  if (differing.length > MOST_NAMED) console.log(`and ${differing.length - MOST_NAMED} more`);
  console.log(`${compared} cited numbers were computed again from the data.`);
  if (largest !== null) {
    const size = `${largest.difference.toPrecision(3)} ${largest.unit} (${largest.relative.toExponential(1)} of it)`;
    const where =
      largest.difference === 0 ? '0: all are the same to the last bit' : `${size}, ${largest.key}`;
    console.log(plainLine(`Largest difference: ${where}.`));
  }
  if (notComputed.length > 0) {
    const named = [...new Set(notComputed)].slice(0, 8).join(', ');
    console.log(plainLine(`not computed again: ${notComputed.length} (${named})`));
  }
  if (record.engine !== engine) {
    console.log(plainLine(`note: published by version ${record.engine}, computed by ${engine}`));
  }
  return differing.length > 0 || notComputed.length > 0 ? DIFFERS : 0;
}

/** The .zip; the session folder where it is not whole in it; the version of the numerics here. */
type Given = Readonly<{ file: string; session: string | null; engine: string }>;

async function recomputeIn(store: string, given: Given): Promise<number> {
  const folder = path.join(store, 'package');
  const issues = await unzip({ file: given.file, into: folder });
  if (issues.length > 0) return complain(...issues.map(formatIssue));
  const text = await readFile(path.join(folder, 'record.json'), 'utf8').catch(() => null);
  if (text === null) return complain('no data package: it holds no record.json');
  const { record, unusable, sha256, lines } = verifyRecord(text, []);
  if (record === null) return complain(unusable ?? 'its record cannot be used');
  console.log(plainLine(`${recordLabel(record)}: ${record.title}`));
  console.log(`SHA-256 of the record: ${sha256}`);
  const changed = await changedFiles(folder);
  for (const { text: said } of lines) console.log(plainLine(`differs: ${said}`));
  for (const name of changed) {
    console.log(plainLine(`differs: ${name} is not the file that the package lists`));
  }
  const session = given.session ?? path.join(folder, 'session');
  const input = await readSession(session, path.join(store, 'samples'));
  if (input === null) return BAD_INPUT;
  const hash = (content: string) => createHash('sha256').update(content).digest('hex');
  const { engine } = given;
  const { reconstruction, derived } = reconstruct(input, { engine, sha256: hash });
  const channels = channelsOf(input, reconstruction);
  const polls = polledInstants(record, reconstruction).map((place) => {
    return { place, state: stateAtPoll(input, place.atS) };
  });
  const again = { reconstruction, derived, channels, polls };
  const ends = report(record, recomputeRecord(record, again), engine);
  return lines.length > 0 || changed.length > 0 ? DIFFERS : ends;
}

/**
 * Computes a package again and prints how far the numbers are from those published.
 *
 * @param given what to compute
 * @returns 0 when all agree, 1 when something differs or cannot be computed, 2 when it cannot be used
 */
export async function recompute(given: Given): Promise<number> {
  const store = makeStore();
  if (store === null) return BAD_INPUT;
  try {
    return await recomputeIn(store, given);
  } catch (error) {
    if (isSystemError(error, ['ENOENT'])) return complain(`${given.file}: there is no such file`);
    if (isSystemError(error, ['EISDIR'])) {
      return complain(`${given.file}: a folder; a data package (.zip) is expected`);
    }
    if (isSystemError(error, ['EACCES'])) return complain(`${given.file}: it cannot be opened`);
    throw error;
  } finally {
    rmSync(store, { recursive: true, force: true });
  }
}
