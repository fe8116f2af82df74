/** Hostile uploads, posted as a browser posts them; the large ones in the long campaign. */
import { readdirSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { POST } from '@/app/import/upload/route';
import { samplesRoot, uploadsRoot } from '@/lib/server/data-folders';
import { readUpload } from '@/lib/server/jobs/read-upload';
import { uploadFolder } from '@/lib/server/uploads/receive-file';
import { freshDataDir } from '../support/data-dir';
import { issueProblems, leftovers, textProblems } from './damaged-case';
import { HOSTILE_UPLOADS, type HostileFile } from './hostile-uploads';

const { dataDir } = freshDataDir();

const OWN = { host: '127.0.0.1:3000', origin: 'http://127.0.0.1:3000' };
/** Longest that an upload may take to be refused or read, ms, on a machine that does more beside it. */
const PATIENCE_MS = 120_000;
/** Most memory that it may take beside what it was, MB: DuckDB's own limit and the texts. */
const MOST_MB = 1_200;

type Answer = Readonly<{ uploadId: string | null; code: string | null; message: string }>;

async function post({ name, content }: HostileFile, uploadId: string | null): Promise<Answer> {
  const query = new URLSearchParams({ name, ...(uploadId === null ? {} : { upload: uploadId }) });
  const url = `http://127.0.0.1:3000/import/upload?${query}`;
  const body = typeof content === 'string' ? content : new Uint8Array(content);
  const response = await POST(new Request(url, { method: 'POST', headers: OWN, body }));
  const answer = await response.json();
  const { uploadId: id = null, code = null, message = '' } = answer;
  return { uploadId: id, code, message };
}

/** What was said of an upload: the code of the first error, else `described` or `read`. */
async function endOf(files: readonly HostileFile[], problems: string[]): Promise<string> {
  let uploadId: string | null = null;
  for (const file of files) {
    const answer = await post(file, uploadId);
    if (answer.code !== null) {
      problems.push(...textProblems(answer.message));
      return answer.code;
    }
    uploadId = answer.uploadId;
  }
  const request = { uploadFolder: uploadFolder(uploadId ?? ''), samplesRoot: samplesRoot() };
  const { reading, issues, toDescribe } = await readUpload(request, () => {});
  problems.push(...issues.flatMap((issue) => issueProblems(issue, dataDir())));
  if (reading !== null) return 'read';
  if (toDescribe) return 'described';
  return issues.find(({ severity }) => severity === 'error')?.code ?? 'refused without a reason';
}

/** What stays beside the files as sent and what was unpacked of them. */
async function left(): Promise<readonly string[]> {
  const known = /^(files|names|unpacked|sketch\.json)$/;
  const uploads = readdirSync(dataDir()).includes('uploads') ? readdirSync(uploadsRoot()) : [];
  const odd = uploads.flatMap((id) =>
    readdirSync(path.join(uploadsRoot(), id)).filter((name) => !known.test(name)),
  );
  return [...odd, ...(await leftovers(samplesRoot()))];
}

const all = process.env.WAKELINE_HOSTILE === 'all';
const tried = HOSTILE_UPLOADS.filter(({ size }) => all || size === 'small');

test.each(tried.map((upload) => [upload.what, upload] as const))(
  '%s ends with one clear word and leaves nothing half-written',
  async (_what, { files, end }) => {
    const sent = files();
    const problems: string[] = [];
    const before = process.memoryUsage().rss;
    const startedMs = performance.now();
    const ended = await endOf(sent, problems);
    expect(performance.now() - startedMs).toBeLessThan(PATIENCE_MS);
    expect((process.memoryUsage().rss - before) / 2 ** 20).toBeLessThan(MOST_MB);
    expect({ problems, left: await left() }).toEqual({ problems: [], left: [] });
    expect(ended).toBe(end);
  },
  120_000,
);
