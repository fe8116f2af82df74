/** A text in Markdown with its figures against the record beside it: every line and every drawing. */
import type { VerifiedFile } from '../docx/verify-docx';
import { citedNumbers } from '../package/recompute-record';
import { sealRecord } from '../record';
import { type ShownLine, shownDifferences } from '../shown-lines';
import { type VerifyLine, verifyRecord } from '../verify-record';
import { markdownText } from './markdown-text';
import { type MarkdownFiles, renderMarkdown } from './render-markdown';

const TEXT = 'debrief.md';

function linesOf(text: string): readonly ShownLine[] {
  let where = 'at the head';
  return text.split('\n').map((line) => {
    const heading = /^#+ (.*)$/.exec(line)?.[1];
    if (heading !== undefined) where = `under "${heading.replace(/<a id="[a-z0-9-]*"><\/a>/, '')}"`;
    return { text: line, where };
  });
}

/**
 * Checks the files of the export in Markdown.
 *
 * @param files by name, as the archive holds them
 * @param engine version of this program's numerics: files of the same version are the same to the byte
 * @param published the hash that the publisher's list gives, where the reader has it
 * @returns `record` null where there is none among the files
 */
export function verifyMarkdown(
  files: MarkdownFiles,
  engine: string,
  published: string | null,
): VerifiedFile {
  const [json, text] = [files.get('record.json'), files.get(TEXT)];
  if (json === undefined || text === undefined) {
    const lacking = json === undefined ? 'record.json' : TEXT;
    const unusable = `no debrief in Markdown: ${lacking} is not in it`;
    return { record: null, unusable, sha256: '', lines: [], numbers: 0 };
  }
  const claims = published === null ? [] : [{ by: 'the hash that was given', sha256: published }];
  const verified = verifyRecord(json, claims);
  const { record } = verified;
  if (record === null) return { ...verified, numbers: 0 };
  const meant = renderMarkdown(sealRecord(record));
  const cited = citedNumbers(record.blocks).map(({ run }) => run.text);
  const shown = shownDifferences(
    linesOf(text),
    linesOf(meant.get(TEXT) ?? ''),
    cited.map(markdownText),
  );
  const names = [...new Set([...files.keys(), ...meant.keys()])].filter(
    (name) => name !== TEXT && name !== 'record.json' && files.get(name) !== meant.get(name),
  );
  const isOther = record.engine !== engine;
  const others = names.flatMap((name): readonly VerifyLine[] => {
    const isBoth = files.has(name) && meant.has(name);
    // Another version may draw otherwise; it has the same figures all the same.
    if (isBoth && isOther) return [];
    const state = files.has(name) ? 'is not of this export' : 'is lacking';
    const text = `${name} ${isBoth ? 'is not drawn from the points in the record' : state}`;
    return [{ gravity: 'differs', text }];
  });
  const note = `the text was written by version ${record.engine}, this is ${engine}: its drawings may differ for that alone and were not held against the record`;
  const lines: readonly VerifyLine[] = [
    ...verified.lines,
    ...shown,
    ...others,
    ...(isOther ? [{ gravity: 'note', text: note } as const] : []),
  ];
  return { ...verified, lines, numbers: cited.length };
}
