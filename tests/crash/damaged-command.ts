/** One damaged folder through the debrief command, as a person would run it. */
import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { damageFolder, type FolderFiles } from './damage';
import { type CaseOutcome, textProblems } from './damaged-case';

/** Longest a case may take, ms: the whole demo takes a few seconds. */
const PATIENCE_MS = 120_000;

function outputProblems(status: number, out: string): string[] {
  const names = existsSync(out) ? readdirSync(out).sort() : [];
  if (status === 2 && names.length > 0) return [`exit 2, but wrote ${names.join(', ')}`];
  if (status !== 0) return [];
  const missing = ['debrief.html', 'reconstruction.json'].filter((name) => !names.includes(name));
  if (missing.length > 0) return [`exit 0 without ${missing.join(', ')}`];
  try {
    JSON.parse(readFileSync(path.join(out, 'reconstruction.json'), 'utf8'));
    return [];
  } catch {
    return ['reconstruction.json is no JSON'];
  }
}

/** Runs one case in a scratch folder that is removed afterwards. */
export function runDamagedCommand(base: FolderFiles, seed: number, scratch: string): CaseOutcome {
  const { files, said } = damageFolder(base, seed);
  rmSync(scratch, { recursive: true, force: true });
  mkdirSync(path.join(scratch, 'folder'), { recursive: true });
  for (const [name, bytes] of files) writeFileSync(path.join(scratch, 'folder', name), bytes);
  const out = path.join(scratch, 'out');
  const run = spawnSync(
    process.execPath,
    ['.built/debrief.mjs', path.join(scratch, 'folder'), '--out', out],
    { encoding: 'utf8', timeout: PATIENCE_MS, killSignal: 'SIGKILL', maxBuffer: 1 << 27 },
  );
  const problems: string[] = [];
  if (run.signal !== null) problems.push(`ended by ${run.signal}`);
  else if (run.status !== 0 && run.status !== 2) problems.push(`exit ${run.status}`);
  if (run.status === 2 && run.stderr.trim() === '') problems.push('exit 2 without a message');
  for (const line of run.stderr.split('\n').slice(0, 200)) problems.push(...textProblems(line));
  problems.push(...outputProblems(run.status ?? -1, out));
  rmSync(scratch, { recursive: true, force: true });
  const ended = run.status === 0 ? 'read' : run.status === 2 ? 'refused' : 'threw';
  return { seed, said, ended, problems: [...new Set(problems)] };
}
