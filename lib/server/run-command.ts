/**
 * The one runner of commands: parse, authorise, one transaction with the version check, audit, log.
 * Server actions, route handlers and the command line change nothing but through it.
 */
import { DomainError } from '@/lib/core/result';
import { dataWithoutHiddenSigns } from '@/lib/core/session/hidden-signs';
import { type Actor, localActor } from './actor';
import type { Command, CommandContext } from './commands/define-command';
import { db, TRANSACTION_LIMITS, type Transaction } from './db';
import { logLine } from './log-line';
import { newId } from './new-id';
import { plainRefusal } from './plain-refusal';

export type Refusal = Readonly<{
  ok: false;
  code: string;
  message: string;
  /** One sentence per field of the input that did not fit, by dotted path. */
  fields?: Readonly<Record<string, string>>;
  /** With `changed-meanwhile`: what the row says now. */
  newer?: unknown;
}>;

export type CommandResult<Data> = Readonly<{ ok: true; data: Data }> | Refusal;

type Outcome = Readonly<{
  command: string;
  subject: string;
  actor: Actor;
  startedMs: number;
  detail?: Readonly<Record<string, string>>;
}>;

class Refused extends Error {
  constructor(readonly refusal: Refusal) {
    super(refusal.message);
  }
}

/**
 * Runs a command for the person at this machine.
 *
 * @param command any command, registered or not
 * @param rawInput what came in, unchecked; controls and signs of direction in its texts are left out
 * @returns the command's data, or why it was refused; throws only on a bug
 */
export async function runCommand<Input, Data, Prepared>(
  command: Command<Input, Data, Prepared>,
  rawInput: unknown,
): Promise<CommandResult<Data>> {
  const startedMs = performance.now();
  const actor = localActor();
  const parsed = command.input.safeParse(dataWithoutHiddenSigns(rawInput), {
    error: plainRefusal,
  });
  if (!parsed.success) {
    const fields: Record<string, string> = {};
    for (const issue of parsed.error.issues) fields[issue.path.join('.')] ??= issue.message;
    const message = Object.values(fields)[0] ?? 'The input does not fit.';
    const outcome = { command: command.name, subject: '', actor, startedMs };
    return refuse(outcome, { ok: false, code: 'invalid-input', message, fields });
  }
  const input = parsed.data;
  const outcome = {
    command: command.name,
    subject: command.subject(input, null),
    actor,
    startedMs,
    detail: command.detail?.(input) ?? {},
  };
  if (!command.may(actor, input)) {
    const message = 'You are not allowed to do this.';
    return refuse(outcome, { ok: false, code: 'not-allowed', message });
  }
  return carryOut(command, input, outcome);
}

async function carryOut<Input, Data, Prepared>(
  command: Command<Input, Data, Prepared>,
  input: Input,
  outcome: Outcome,
): Promise<CommandResult<Data>> {
  const later: (() => void | Promise<void>)[] = [];
  let prepared: Prepared | null = null;
  let committed: Readonly<{ data: Data; subject: string }>;
  try {
    prepared = (await command.prepare?.({ actor: outcome.actor, now: new Date() }, input)) ?? null;
    committed = await db().$transaction(async (tx) => {
      const context: CommandContext = {
        tx,
        actor: outcome.actor,
        now: new Date(),
        afterCommit: (work) => later.push(work),
      };
      await checkVersion(command, context, input);
      const data = await command.run(context, input, prepared);
      const subject = command.subject(input, data);
      await writeAudit(tx, { ...outcome, subject }, null);
      return { data, subject };
    }, TRANSACTION_LIMITS);
  } catch (error) {
    if (prepared !== null) await command.discard?.(prepared);
    if (error instanceof Refused) return refuse(outcome, error.refusal);
    if (error instanceof DomainError) {
      return refuse(outcome, { ok: false, code: error.code, message: error.message });
    }
    logOutcome(outcome, 'failed');
    throw error;
  }
  const done = { ...outcome, subject: committed.subject };
  for (const work of later) await afterwards(done, work);
  logOutcome(done, null);
  return { ok: true, data: committed.data };
}

/** What is committed is done: work that fails after it is logged, the sweep makes up for files. */
async function afterwards(outcome: Outcome, work: () => void | Promise<void>): Promise<void> {
  try {
    await work();
  } catch (error) {
    logLine('after-commit-failed', {
      command: outcome.command,
      subject: outcome.subject,
      reason: error instanceof Error ? error.message : String(error),
    });
  }
}

async function checkVersion<Input, Data, Prepared>(
  command: Command<Input, Data, Prepared>,
  context: CommandContext,
  input: Input,
): Promise<void> {
  if (command.version === undefined) return;
  const row = await command.version.load(context, input);
  if (row === null) {
    throw new Refused({ ok: false, code: 'not-found', message: 'This is no longer there.' });
  }
  if (row.version === command.version.expected(input)) return;
  const message = 'Somebody changed this meanwhile. The newer text is shown beside yours.';
  throw new Refused({ ok: false, code: 'changed-meanwhile', message, newer: row.value });
}

async function refuse(outcome: Outcome, refusal: Refusal): Promise<Refusal> {
  await db().$transaction((tx) => writeAudit(tx, outcome, refusal.code), TRANSACTION_LIMITS);
  logOutcome(outcome, refusal.code);
  return refusal;
}

async function writeAudit(tx: Transaction, outcome: Outcome, code: string | null): Promise<void> {
  await tx.auditEntry.create({
    data: {
      id: newId(),
      teamId: outcome.actor.teamId,
      actor: outcome.actor.name,
      command: outcome.command,
      subject: outcome.subject,
      outcome: code === null ? 'done' : 'refused',
      detail: JSON.stringify({ ...outcome.detail, ...(code === null ? {} : { code }) }),
      durationMs: elapsedMs(outcome),
    },
    select: { id: true },
  });
}

function elapsedMs(outcome: Outcome): number {
  return Math.round(performance.now() - outcome.startedMs);
}

function logOutcome(outcome: Outcome, code: string | null): void {
  logLine('command', {
    command: outcome.command,
    actor: outcome.actor.name,
    subject: outcome.subject,
    outcome: code ?? 'done',
    ms: elapsedMs(outcome),
  });
}
