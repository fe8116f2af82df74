/** What is proposed for an upload without a session.yaml. */
import { cache } from 'react';
import {
  type DescribedFile,
  proposeSession,
  type SessionProposal,
} from '@/lib/core/intake/proposal/session-proposal';
import type { TelemetrySpec } from '@/lib/core/session/session-file';
import { localActor } from '../actor';
import { db } from '../db';
import { sourceSpecFromJson } from '../rows';
import { readUploadSketch, type UploadSketch } from '../uploads/upload-sketch';

export type UploadDescription = Readonly<{
  uploadId: string;
  sketch: UploadSketch;
  proposal: SessionProposal;
}>;

/** How many earlier sources are looked through for one with the same header. */
const MOST_REMEMBERED = 200;

type Remembered = Readonly<{ spec: TelemetrySpec; title: string }>;

/** Telemetry described before, the newest first. */
async function rememberedSources(): Promise<readonly Remembered[]> {
  const rows = await db().sourceVersion.findMany({
    where: { type: 'telemetry', session: { teamId: localActor().teamId, origin: 'import' } },
    orderBy: { createdAt: 'desc' },
    take: MOST_REMEMBERED,
    select: { declared: true, session: { select: { title: true } } },
  });
  return rows.flatMap(({ declared, session }) => {
    const spec = sourceSpecFromJson(declared);
    return spec.type === 'telemetry' ? [{ spec, title: session.title }] : [];
  });
}

/** True for a source of which the form can say everything: nothing is dropped from it in silence. */
function canBeSaid({ channels, missing, declared }: TelemetrySpec): boolean {
  const isBare = Object.values(declared).every((each) => each === null);
  return isBare && missing.length === 0 && channels.every(({ scale }) => scale === 1);
}

/** True when everything that the earlier description names stands in this header. */
function fits({ spec }: Remembered, file: DescribedFile, header: readonly string[]): boolean {
  if (spec.layout !== file.layout || spec.channels.length === 0 || !canBeSaid(spec)) return false;
  const named = [...spec.time.columns, ...[spec.nameColumn, spec.valueColumn].filter(isNamed)];
  const columns = file.channels.map(({ column }) => column);
  const inHeader = (name: string): boolean => header.includes(name) || columns.includes(name);
  return named.every(inHeader) && spec.channels.every(({ column }) => columns.includes(column));
}

function isNamed(name: string | null): name is string {
  return name !== null;
}

function asBefore(file: DescribedFile, { spec }: Remembered): DescribedFile {
  const { time, channels } = spec;
  return {
    ...file,
    use: 'telemetry',
    time: { columns: time.columns, code: time.code, scale: time.scale },
    nameColumn: spec.nameColumn,
    valueColumn: spec.valueColumn,
    channels: file.channels.map(({ column }) => {
      const known = channels.find((channel) => channel.column === column);
      return known === undefined
        ? { column, as: null, unit: null, sign: 1 }
        : { column, as: known.as, unit: known.unit, sign: known.sign };
    }),
  };
}

function withRemembered(
  { sketch, proposal }: Pick<UploadDescription, 'sketch' | 'proposal'>,
  remembered: readonly Remembered[],
): SessionProposal {
  const reasons = [...proposal.reasons];
  const files = proposal.description.files.map((file, index) => {
    const header = sketch.files[index]?.table?.columns ?? [];
    const known = remembered.find((each) => fits(each, file, header));
    const own = reasons[index];
    if (known === undefined || own === undefined) return file;
    const said = `${own.said}, read as in "${known.title}", whose file had these columns`;
    reasons[index] = { ...own, said };
    return asBefore(file, known);
  });
  return { description: { ...proposal.description, files }, reasons };
}

/** @returns null when there is no such upload, or nothing in it to describe */
export const loadDescription = cache(
  async (uploadId: string): Promise<UploadDescription | null> => {
    const sketch = await readUploadSketch(uploadId);
    if (sketch === null) return null;
    const proposal = proposeSession(sketch.files);
    const remembered = await rememberedSources();
    return { uploadId, sketch, proposal: withRemembered({ sketch, proposal }, remembered) };
  },
);
