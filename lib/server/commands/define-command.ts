/** Commands are values: a name, a schema, who may, and what is done in one transaction. */
import type { z } from 'zod';
import type { Actor } from '../actor';
import type { Transaction } from '../db';

export type CommandContext = Readonly<{
  /** The command's one transaction. Never use `db()` inside `run`: it would wait for this one. */
  tx: Transaction;
  actor: Actor;
  now: Date;
  /** Work that must wait for the commit, such as waking the job queue or removing files. */
  afterCommit: (work: () => void | Promise<void>) => void;
}>;

/** A row that somebody may have changed meanwhile: its version, and what it says now. */
export type VersionedRow = Readonly<{ version: number; value: unknown }>;

/** For commands that change an editable row: the version they started from, and the row as it is. */
export type VersionCheck<Input> = Readonly<{
  expected: (input: Input) => number;
  load: (context: CommandContext, input: Input) => Promise<VersionedRow | null>;
}>;

export type Command<Input, Data, Prepared = null> = Readonly<{
  /** Kebab-case, the file's name: `create-finding`. */
  name: string;
  input: z.ZodType<Input>;
  may: (actor: Actor, input: Input) => boolean;
  version?: VersionCheck<Input>;
  /** What the command was about, for the audit row: an id. */
  subject: (input: Input, data: Data | null) => string;
  /** What the audit row keeps of it beside who, what and when, such as a reason. */
  detail?: (input: Input) => Readonly<Record<string, string>>;
  /** Slow work before the transaction opens, such as rendering. May refuse with `DomainError`. */
  prepare?: (request: Readonly<{ actor: Actor; now: Date }>, input: Input) => Promise<Prepared>;
  /** Takes back what was prepared, when the command is then refused or fails. */
  discard?: (prepared: Prepared) => Promise<void>;
  /** Does it. Throws `DomainError` to refuse; returns JSON-safe data. */
  run: (context: CommandContext, input: Input, prepared: Prepared | null) => Promise<Data>;
}>;

type Definition<Input, Data, Prepared> = Omit<Command<Input, Data, Prepared>, 'subject'> &
  Partial<Pick<Command<Input, Data, Prepared>, 'subject'>>;

/** Makes a command. Where `subject` is left out, the input's or the data's `id` is the subject. */
export function defineCommand<Input, Data, Prepared = null>(
  definition: Definition<Input, Data, Prepared>,
): Command<Input, Data, Prepared> {
  return { subject: (input, data) => idOf(data) ?? idOf(input) ?? '', ...definition };
}

function idOf(value: unknown): string | null {
  if (typeof value !== 'object' || value === null) return null;
  for (const key of ['id', 'sessionId', 'jobId']) {
    const id: unknown = Reflect.get(value, key);
    if (typeof id === 'string') return id;
  }
  return null;
}
