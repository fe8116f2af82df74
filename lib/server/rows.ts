/** Row <-> core value. Words and JSON in columns are checked here, when a row is read. */
import { z } from 'zod';
import type { Figure } from '@/lib/core/figure';
import {
  type Annotation,
  type CapturedFigure,
  FINDING_KINDS,
  FINDING_SEVERITIES,
  FINDING_STATES,
  type Finding,
} from '@/lib/core/findings/finding';
import type { Reconstruction } from '@/lib/core/reconstruction/reconstruction';
import type { SourceSpec } from '@/lib/core/session/session-file';

export const sessionKindSchema = z.enum(['flight', 'simulation']);
export const sourceTypeSchema = z.enum(['telemetry', 'events', 'ephemeris']);

export const figureSchema: z.ZodType<Figure> = z.object({
  value: z.number().nullable(),
  unit: z.string(),
  uncertainty: z
    .object({ random: z.number().nullable(), systematic: z.number().nullable() })
    .nullable(),
  method: z.string(),
  evidence: z.object({
    sources: z.array(z.object({ file: z.string(), sha256: z.string() })),
    channels: z.array(z.string()),
    fromS: z.number().nullable(),
    toS: z.number().nullable(),
    runs: z.exactOptional(z.string()),
    people: z.exactOptional(z.array(z.string())),
  }),
  reason: z.exactOptional(z.string()),
});

export const capturedFigureSchema: z.ZodType<CapturedFigure> = z.object({
  key: z.string().min(1).max(200),
  label: z.string().min(1).max(200),
  figure: figureSchema,
});

const channelNamesSchema = z.array(z.string());

/** JSON text as a value; a column that does not hold what the program wrote is a bug. */
export function parseJson<T>(schema: z.ZodType<T>, text: string): T {
  return schema.parse(fromJson(text));
}

/** The value that `toJson` wrote; what it is must be checked by who reads it. */
export function fromJson(text: string): unknown {
  return JSON.parse(text, reviveBigInt);
}

/** JSON text of a value; integers of 64 bits are written as `{ "$int": "…" }`. */
export function toJson(value: unknown): string {
  return JSON.stringify(value, (_key, item: unknown) =>
    typeof item === 'bigint' ? { $int: item.toString() } : item,
  );
}

function reviveBigInt(_key: string, item: unknown): unknown {
  if (typeof item !== 'object' || item === null || !('$int' in item)) return item;
  return typeof item.$int === 'string' ? BigInt(item.$int) : item;
}

export type FindingRow = Readonly<{
  id: string;
  sessionId: string;
  version: number;
  number: number;
  title: string;
  seen: string;
  change: string;
  owner: string;
  due: string;
  kind: string;
  severity: string;
  state: string;
  fromS: number;
  toS: number;
  channels: string;
  figures: string;
  author: string;
  createdAt: Date;
  updatedAt: Date;
}>;

/** The columns of a finding that its core value is made of. */
export const FINDING_COLUMNS = {
  id: true,
  sessionId: true,
  version: true,
  number: true,
  title: true,
  seen: true,
  change: true,
  owner: true,
  due: true,
  kind: true,
  severity: true,
  state: true,
  fromS: true,
  toS: true,
  channels: true,
  figures: true,
  author: true,
  createdAt: true,
  updatedAt: true,
} as const;

export function findingFromRow(row: FindingRow): Finding {
  return {
    id: row.id,
    number: row.number,
    version: row.version,
    title: row.title,
    seen: row.seen,
    change: row.change,
    owner: row.owner,
    due: row.due,
    kind: z.enum(FINDING_KINDS).parse(row.kind),
    severity: z.enum(FINDING_SEVERITIES).parse(row.severity),
    state: z.enum(FINDING_STATES).parse(row.state),
    anchor: {
      sessionId: row.sessionId,
      fromS: row.fromS,
      toS: row.toS,
      channels: parseJson(channelNamesSchema, row.channels),
    },
    figures: parseJson(z.array(capturedFigureSchema), row.figures),
    author: row.author,
    createdAtIso: row.createdAt.toISOString(),
    updatedAtIso: row.updatedAt.toISOString(),
  };
}

export type AnnotationRow = Readonly<{
  id: string;
  sessionId: string;
  version: number;
  fromS: number;
  toS: number;
  channels: string;
  text: string;
  author: string;
  createdAt: Date;
  updatedAt: Date;
}>;

/** The columns of an annotation that its core value is made of. */
export const ANNOTATION_COLUMNS = {
  id: true,
  sessionId: true,
  version: true,
  fromS: true,
  toS: true,
  channels: true,
  text: true,
  author: true,
  createdAt: true,
  updatedAt: true,
} as const;

export function annotationFromRow(row: AnnotationRow): Annotation {
  return {
    id: row.id,
    version: row.version,
    text: row.text,
    anchor: {
      sessionId: row.sessionId,
      fromS: row.fromS,
      toS: row.toS,
      channels: parseJson(channelNamesSchema, row.channels),
    },
    author: row.author,
    createdAtIso: row.createdAt.toISOString(),
    updatedAtIso: row.updatedAt.toISOString(),
  };
}

const reconstructionHead = z.looseObject({
  format: z.literal('wakeline/core-reconstruction/1'),
  engine: z.string(),
  inputsSha256: z.string(),
  session: z.looseObject({ title: z.string() }),
  phases: z.array(z.unknown()),
  steps: z.array(z.unknown()),
  rules: z.array(z.unknown()),
});

/** The stored reconstruction. Its head is checked; the rest is what the core wrote under that format. */
export function reconstructionFromBody(body: string): Reconstruction {
  const value: unknown = JSON.parse(body);
  reconstructionHead.parse(value);
  // An older one lacks these parts until it is renewed.
  const earlier: Partial<Reconstruction> = value as Reconstruction;
  return { ...(value as Reconstruction), ...lackingParts(earlier) };
}

function lackingParts(found: Partial<Reconstruction>) {
  return {
    capture: found.capture ?? null,
    // One from before runs were kept for other questions is compared again with the renewal.
    comparison: found.comparison?.order === undefined ? null : found.comparison,
    handling: found.handling ?? { tasks: [], astray: [] },
    sequence: found.sequence ?? [],
    dispositions: found.dispositions ?? [],
  };
}

const sourceSpecHead = z.looseObject({ type: sourceTypeSchema, file: z.string() });

/** What session.yaml said of a source, as stored with it. */
export function sourceSpecFromJson(text: string): SourceSpec {
  const value = fromJson(text);
  const head = sourceSpecHead.parse(value);
  const spec = value as SourceSpec;
  if (head.type !== 'telemetry' || 'files' in head) return spec;
  // Kept before a source could have several files, or numbers that stand for no sample.
  const since = { files: [head.file], missing: [] };
  return { ...since, ...spec };
}
