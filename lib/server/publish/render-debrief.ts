/** Draft and material -> record, page, PDFs and data package in a folder. Runs in the publishing process. */
import { createWriteStream } from 'node:fs';
import { mkdir } from 'node:fs/promises';
import path from 'node:path';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { contentSha256Of, missingRoles, missingRolesText } from '@/lib/core/debrief/approvals';
import { askedPolls, statedPolls } from '@/lib/core/debrief/asked-polls';
import { checkDocument } from '@/lib/core/debrief/check-document';
import { renderDocx } from '@/lib/core/debrief/docx/render-docx';
import { renderHtml } from '@/lib/core/debrief/html/render-html';
import { renderMarkdown } from '@/lib/core/debrief/markdown/render-markdown';
import { BUILT_IN_BLOCKS } from '@/lib/core/debrief/nodes/built-in-blocks';
import {
  DOCX_FILE,
  MARKDOWN_FILE,
  PACKAGE_FILE,
  PDF_FILES,
} from '@/lib/core/debrief/package/published-name';
import { PAPERS } from '@/lib/core/debrief/pdf/pdf-data';
import type { StatedPoll } from '@/lib/core/debrief/poll-place';
import { makeRecord, type SealedRecord, sealRecord } from '@/lib/core/debrief/record';
import { resolveDocument } from '@/lib/core/debrief/resolve';
import { crashPoint } from '../crash-point';
import { statesOfStored } from '../polls/states-of-stored';
import { zipContents } from '../uploads/zip-folder';
import { readEmbeddedFonts } from './embedded-fonts';
import { channelsOf, fullMaterial } from './full-material';
import { writePackage } from './package/write-package';
import { renderPdfs } from './pdf/render-pdf';
import type { PublishAnswer, PublishRequest } from './publish-messages';
import { keepWritten, type WrittenFile, writeDurably } from './published-folder';

const ZIP = 'application/zip';
const DOCX = 'application/vnd.openxmlformats-officedocument.wordprocessingml.document';

/** Texts and bytes by name as one archive; the same ones give the same bytes. */
export async function writeZip(
  parts: ReadonlyMap<string, string | Uint8Array>,
  target: string,
): Promise<void> {
  const contents = new Map(
    [...parts].map(([name, part]) => [
      name,
      typeof part === 'string' ? { text: part } : { data: part },
    ]),
  );
  await pipeline(Readable.from(zipContents(contents)), createWriteStream(target));
}

/** What people go on working with: Markdown with its figures, and a word processor's document. */
async function writeEditable(
  sealed: SealedRecord,
  folder: string,
): Promise<readonly WrittenFile[]> {
  const kept = async (name: string, mediaType: string, parts: Parameters<typeof writeZip>[0]) => {
    await writeZip(parts, path.join(folder, name));
    return keepWritten(folder, { name, mediaType }, 'publish:page-synced');
  };
  return [
    await kept(MARKDOWN_FILE, ZIP, renderMarkdown(sealed)),
    await kept(DOCX_FILE, DOCX, renderDocx(sealed)),
  ];
}

async function writeFiles(
  sealed: SealedRecord,
  { doc, outline, inputs, folder }: PublishRequest,
): Promise<readonly WrittenFile[]> {
  await mkdir(folder, { recursive: true });
  const record = { name: 'record.json', mediaType: 'application/json', content: sealed.json };
  const html = renderHtml(sealed, await readEmbeddedFonts());
  const page = { name: 'debrief.html', mediaType: 'text/html; charset=utf-8', content: html };
  const files = [
    await writeDurably(folder, record, 'publish:record-synced'),
    await writeDurably(folder, page, 'publish:page-synced'),
  ];
  for (const [index, { pdf }] of (await renderPdfs(sealed, PAPERS)).entries()) {
    const name = PDF_FILES[PAPERS[index] ?? 'a4'];
    const file = { name, mediaType: 'application/pdf', content: pdf };
    files.push(await writeDurably(folder, file, 'publish:pdf-synced'));
  }
  files.push(...(await writeEditable(sealed, folder)));
  const { reconstruction } = outline.parts;
  await writePackage(
    { sealed, reconstruction, ...outline, shown: channelsOf(doc), inputs },
    { work: path.join(folder, '.package'), target: path.join(folder, PACKAGE_FILE) },
  );
  const data = { name: PACKAGE_FILE, mediaType: ZIP };
  return [...files, await keepWritten(folder, data, 'publish:package-synced')];
}

/** What was known at the instants of the document; what cannot be computed is named before publishing. */
async function pollsOf({ doc, outline, polls }: PublishRequest): Promise<readonly StatedPoll[]> {
  const { samplesRoot, parts } = outline;
  const places = askedPolls(doc, BUILT_IN_BLOCKS, parts.reconstruction);
  const missing = places.map(({ atS }) => atS).filter((atS) => !polls.known.has(atS));
  if (missing.length === 0 || polls.stored === null) return statedPolls(places, polls.known);
  const computed = await statesOfStored({ stored: polls.stored, samplesRoot, instants: missing });
  return statedPolls(
    places,
    new Map([...polls.known, ...computed.map((state) => [state.atS, state] as const)]),
  );
}

export async function renderDebrief(request: PublishRequest): Promise<PublishAnswer> {
  const { doc, outline, imprint } = request;
  const material = await fullMaterial(outline, channelsOf(doc), await pollsOf(request));
  const stops = checkDocument(doc, material, BUILT_IN_BLOCKS).filter(
    (check) => check.gravity === 'stops',
  );
  if (stops.length > 0) {
    return { kind: 'open-blocks', messages: stops.map((check) => check.message) };
  }
  const resolved = resolveDocument(doc, material, BUILT_IN_BLOCKS);
  const record = makeRecord(resolved, material, imprint);
  const contentSha256 = contentSha256Of(record);
  const approvals = request.approvals.filter((each) => each.contentSha256 === contentSha256);
  const missing = missingRoles(request.requiredRoles, approvals);
  if (missing.length > 0) {
    const isStale = missingRoles(request.requiredRoles, request.approvals).length < missing.length;
    const stale = isStale ? ' What was approved is no longer what would be published.' : '';
    return { kind: 'not-approved', message: `${missingRolesText(missing)}${stale}` };
  }
  const sealed = sealRecord(makeRecord(resolved, material, { ...imprint, approvals }));
  crashPoint('publish:rendered');
  const files = await writeFiles(sealed, request);
  const { json: recordJson, sha256 } = sealed;
  return { kind: 'rendered', rendered: { recordJson, sha256, contentSha256, files } };
}
