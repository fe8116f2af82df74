import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test, vi } from 'vitest';
import { z } from 'zod';
import { DomainError } from '@/lib/core/result';
import { defineCommand } from '@/lib/server/commands/define-command';
import { commands } from '@/lib/server/commands/registry';
import { db } from '@/lib/server/db';
import { runCommand } from '@/lib/server/run-command';
import { addSession } from '../support/add-session';
import { freshDataDir } from '../support/data-dir';

freshDataDir();

const FOLDER = path.resolve(import.meta.dirname, '../../lib/server/commands');

test('the registry holds every command file, each under its own name', () => {
  const defined = readdirSync(FOLDER)
    .filter((file) => readFileSync(path.join(FOLDER, file), 'utf8').includes('defineCommand({'))
    .map((file) => file.replace(/\.ts$/, ''));
  const registered = commands.map((command) => command.name);
  expect([...registered].sort()).toEqual(defined.sort());
  expect(registered.length).toBeGreaterThanOrEqual(5);
});

test.each(commands.map((command) => [command.name, command] as const))(
  '%s refuses what is no input, with a message',
  async (_name, command) => {
    for (const junk of [null, 7, 'x', [], { id: {}, sessionId: 5, version: 'one' }]) {
      const parsed = command.input.safeParse(junk);
      expect(parsed.success).toBe(false);
      expect(parsed.error?.issues[0]?.message).toMatch(/\w/);
    }
  },
);

test('a command from outside runs through the same runner: transaction, audit, log line', async () => {
  const sessionId = await addSession('s1');
  const told: string[] = [];
  const renameSession = defineCommand({
    name: 'rename-session',
    input: z.object({ sessionId: z.string(), title: z.string() }),
    may: (_actor, input) => input.title !== 'forbidden',
    run: async (context, input) => {
      context.afterCommit(() => {
        told.push(input.title);
      });
      await context.tx.session.update({
        where: { id: input.sessionId },
        data: { title: input.title },
        select: { id: true },
      });
      if (input.title === 'refused') throw new DomainError('refused', 'Not this title.');
      return { sessionId: input.sessionId };
    },
  });
  const written: string[] = [];
  const spy = vi.spyOn(process.stdout, 'write').mockImplementation((text) => {
    written.push(String(text));
    return true;
  });
  const done = await runCommand(renameSession, { sessionId, title: 'New' });
  const refused = await runCommand(renameSession, { sessionId, title: 'refused' });
  const forbidden = await runCommand(renameSession, { sessionId, title: 'forbidden' });
  spy.mockRestore();
  expect(done).toEqual({ ok: true, data: { sessionId } });
  expect(refused).toEqual({ ok: false, code: 'refused', message: 'Not this title.' });
  expect(forbidden).toMatchObject({ ok: false, code: 'not-allowed' });
  expect(told).toEqual(['New']);
  const row = await db().session.findFirst({ select: { title: true } });
  expect(row?.title).toBe('New');
  const lines = written.map((line) => JSON.parse(line));
  expect(lines.map((line) => [line.event, line.command, line.outcome, line.subject])).toEqual([
    ['command', 'rename-session', 'done', 's1'],
    ['command', 'rename-session', 'refused', 's1'],
    ['command', 'rename-session', 'not-allowed', 's1'],
  ]);
});

test('a bug inside a command is thrown on, and nothing of the command is kept', async () => {
  const sessionId = await addSession('s1');
  const broken = defineCommand({
    name: 'break-session',
    input: z.object({ sessionId: z.string() }),
    may: () => true,
    run: async (context, input) => {
      await context.tx.session.delete({ where: { id: input.sessionId }, select: { id: true } });
      throw new TypeError('a bug');
    },
  });
  await expect(runCommand(broken, { sessionId })).rejects.toThrow('a bug');
  expect(await db().session.count()).toBe(1);
});

test('work that fails after the commit is logged; what is committed stays done', async () => {
  await addSession('s-later');
  const renameThenFail = defineCommand({
    name: 'rename-then-fail',
    input: z.object({ sessionId: z.string() }),
    may: () => true,
    prepare: async () => 'prepared',
    discard: async () => {
      throw new Error('nothing may be taken back');
    },
    run: async ({ tx, afterCommit }, { sessionId }) => {
      afterCommit(() => {
        throw new Error('disk full');
      });
      const data = { title: 'Renamed' };
      await tx.session.update({ where: { id: sessionId }, data, select: { id: true } });
      return { sessionId };
    },
  });
  const written: string[] = [];
  const spy = vi.spyOn(process.stdout, 'write').mockImplementation((text) => {
    written.push(String(text));
    return true;
  });
  const answer = await runCommand(renameThenFail, { sessionId: 's-later' });
  spy.mockRestore();
  expect(answer).toEqual({ ok: true, data: { sessionId: 's-later' } });
  const row = await db().session.findFirst({ where: { id: 's-later' }, select: { title: true } });
  expect(row?.title).toBe('Renamed');
  expect(written.join('')).toContain('"event":"after-commit-failed"');
  expect(written.join('')).toContain('disk full');
});
