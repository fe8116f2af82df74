/** From a draft to its published files: the demo, and a document of 100 figures, each in a process of its own. */
import { fork } from 'node:child_process';
import { createHash } from 'node:crypto';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { z } from 'zod';
import { makeMaterial } from '@/lib/core/debrief/debrief-material';
import type { DocNode } from '@/lib/core/debrief/document';
import { draftDebrief } from '@/lib/core/debrief/draft';
import { BUILT_IN_BLOCKS } from '@/lib/core/debrief/nodes/built-in-blocks';
import { lastPollBeforeContact } from '@/lib/core/debrief/poll-place';
import type { PollState } from '@/lib/core/reconstruction/poll-state';
import { reconstruct } from '@/lib/core/reconstruction/reconstruct';
import { type StoredInput, toStored } from '@/lib/server/jobs/stored-input';
import { statesOfStored } from '@/lib/server/polls/states-of-stored';
import type { MaterialOutline } from '@/lib/server/publish/full-material';
import type { PublishRequest } from '@/lib/server/publish/publish-messages';
import { writeDerived } from '@/lib/server/samples/write-derived';
import { readSessionFolder } from '@/lib/server/session-folder';
import { demoFiles, writeDemoFolder } from '@/seed/make-demo';
import { countingIds } from '../support/sample-material';
import type { Bench, BenchRow } from './bench';

/** Limits of the work order: s for the demo, s and kB for the long document. */
const DEMO_S = 10;
const LONG_S = 20;
const LONG_KB = 1_500_000;

const answerSchema = z.object({
  kind: z.literal('rendered'),
  peakKb: z.number(),
  processorS: z.number(),
});

function publishInChild(request: PublishRequest): Promise<z.infer<typeof answerSchema>> {
  const entry = fileURLToPath(new URL('./publish-run.mjs', import.meta.url));
  const child = fork(entry, [], {
    serialization: 'advanced',
    execArgv: ['--max-old-space-size=1536'],
  });
  return new Promise((resolve, reject) => {
    child.once('message', (answer) => resolve(answerSchema.parse(answer)));
    child.once('error', reject);
    child.once('exit', (code) => reject(new Error(`publishing ended with ${code}`)));
    child.send(request);
  });
}

type Ready = Readonly<{
  outline: MaterialOutline;
  inputs: PublishRequest['inputs'];
  stored: StoredInput;
}>;

async function readDemo(root: string): Promise<Ready> {
  const folder = path.join(root, 'demo');
  await writeDemoFolder(folder, demoFiles());
  const samplesRoot = path.join(root, 'samples');
  const read = await readSessionFolder(folder, { samplesRoot });
  const { input, sessionFile, telemetry, runsFolder } = read;
  if (input === null || sessionFile === null) throw new Error('the demo reads');
  const sha256 = (text: string) => createHash('sha256').update(text).digest('hex');
  const { reconstruction, derived } = reconstruct(input, { engine: 'bench', sha256 });
  const parts = { reconstruction, findings: [], plan: null, ruleSet: null, invented: true };
  const samples = telemetry.map(({ file, folder: kept }) => ({ file, folder: kept }));
  const derivedFolder = await writeDerived(samplesRoot, derived);
  return {
    outline: { parts, samplesRoot, derivedFolder },
    stored: toStored(input, sessionFile, { telemetry, runsFolder }),
    inputs: { folder, texts: [], recordings: { files: [], names: [] }, samples },
  };
}

/** What the draft of the demo asks for, as the server has it by the time of publishing. */
async function draftedStates(
  { samplesRoot, parts }: MaterialOutline,
  stored: StoredInput,
): Promise<ReadonlyMap<number, PollState>> {
  const place = lastPollBeforeContact(parts.reconstruction);
  if (place === null) throw new Error('the demo has a poll');
  const states = await statesOfStored({ stored, samplesRoot, instants: [place.atS] });
  return new Map(states.map((state) => [state.atS, state]));
}

const text = (words: string): DocNode => ({ type: 'text', text: words });
const paragraph = (id: string, words: string): DocNode => ({
  type: 'paragraph',
  attrs: { id },
  content: [text(words)],
});

const WORDS = 'The approach was flown to the plan, and what differs from it is said here. '.repeat(
  6,
);

function longTable(id: string): DocNode {
  const row = (index: number): DocNode => ({
    type: 'tableRow',
    content: [1, 2, 3, 4].map((column) => ({
      type: 'tableCell',
      content: [{ type: 'paragraph', content: [text(`row ${index}, column ${column}`)] }],
    })),
  });
  return { type: 'table', attrs: { id }, content: Array.from({ length: 90 }, (_, at) => row(at)) };
}

/** 100 figures, 300 paragraphs, 25 tables of 90 rows: what a long debrief may hold. */
function longDocument(fromS: number, toS: number): DocNode {
  const channels = ['range', 'closing_rate', 'lateral_offset'];
  const sections = Array.from({ length: 100 }, (_, at): readonly DocNode[] => {
    const attrs = { channels, fromS, toS, caption: `Figure of part ${at + 1}`, alt: '' };
    const heading = { id: `head-${at}`, level: 1 };
    return [
      { type: 'heading', attrs: heading, content: [text(`Part ${at + 1}`)] },
      ...[1, 2, 3].map((n) => paragraph(`words-${at}-${n}`, WORDS)),
      { type: 'traceFigure', attrs: { ...attrs, id: `figure-${at}` } },
      ...(at % 4 === 0 ? [longTable(`table-${at}`)] : []),
    ];
  });
  return { type: 'doc', content: sections.flat() };
}

function pagesIn(folder: string): number {
  const pdf = readFileSync(path.join(folder, 'debrief-a4.pdf')).toString('latin1');
  return pdf.match(/\/Type\s*\/Page\b/g)?.length ?? 0;
}

function timeRow(
  what: string,
  measured: number,
  limits: Readonly<{ s: number; aim: number }>,
): BenchRow {
  const against = 'the time a person waits for it';
  return {
    what,
    unit: 's',
    measured,
    reference: limits.s,
    against,
    must: 1,
    aim: limits.aim,
    detail: '',
  };
}

export const publishBench: Bench = {
  name: 'publish',
  run: async (say) => {
    const root = mkdtempSync(path.join(tmpdir(), 'wakeline-bench-'));
    try {
      say('reading the demo');
      const { outline, inputs, stored } = await readDemo(root);
      // Its draft has asked for what was known at its poll: that is there when somebody publishes.
      say('computing what was known at the poll');
      const asked = performance.now();
      const known = await draftedStates(outline, stored);
      const knownS = (performance.now() - asked) / 1000;
      const polls = { known, stored };
      const place = { number: 1, revision: 1, previousSha256: null, title: 'Bench' };
      const imprint = {
        ...place,
        publishedAtIso: '2027-04-06T13:05:00.000Z',
        publishedBy: 'Bench',
      };
      const timed = async (name: string, make: () => DocNode) => {
        say(`publishing ${name}`);
        const folder = path.join(root, name);
        const started = performance.now();
        const approved = { approvals: [], requiredRoles: [] };
        const request = { doc: make(), outline, imprint, ...approved, inputs, polls, folder };
        const { peakKb, processorS } = await publishInChild(request);
        return {
          seconds: (performance.now() - started) / 1000,
          peakKb,
          processorS,
          pages: pagesIn(folder),
        };
      };
      const empty = { tS: new Float64Array(), columns: [] };
      const material = makeMaterial({ ...outline.parts, derived: empty });
      const demo = await timed('demo', () =>
        draftDebrief(material, BUILT_IN_BLOCKS, countingIds()),
      );
      const { durationS } = outline.parts.reconstruction.session;
      const long = await timed('long', () => longDocument(0, durationS.value ?? 1));
      const said = (run: typeof demo) =>
        `${run.pages} pages of A4; all files, both papers, package; ${run.processorS.toFixed(1)} s of processor`;
      return [
        {
          ...timeRow('publishing the demo', demo.seconds, { s: DEMO_S, aim: 0.3 }),
          detail: `${said(demo)}; what was known at its poll is there since the draft was made, in ${knownS.toFixed(1)} s`,
        },
        {
          ...timeRow('publishing 100 figures', long.seconds, { s: LONG_S, aim: 0.25 }),
          detail: said(long),
        },
        {
          what: 'memory of publishing 100 figures',
          unit: 'kB',
          measured: long.peakKb,
          reference: LONG_KB,
          against: 'the limit',
          must: 1,
          aim: 0.5,
          detail: 'greatest resident set of the publishing process',
        },
      ];
    } finally {
      rmSync(root, { recursive: true, force: true });
    }
  },
};
