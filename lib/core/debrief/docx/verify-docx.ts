/** A word processor's file against the record that it carries: every word, number, address and picture. */
import { citedNumbers } from '../package/recompute-record';
import { type DebriefRecord, sealRecord } from '../record';
import { type ShownLine, shownDifferences } from '../shown-lines';
import { type VerifiedRecord, type VerifyLine, verifyRecord } from '../verify-record';
import { IN_THE_MARGIN, type ReadParts, recordInDocx, shownDocx } from './read-docx';
import { renderDocx } from './render-docx';

export type VerifiedFile = VerifiedRecord & Readonly<{ numbers: number }>;

const sameBytes = (a: Uint8Array | undefined, b: Uint8Array | undefined): boolean =>
  a !== undefined &&
  b !== undefined &&
  a.length === b.length &&
  a.every((byte, at) => byte === b[at]);

function partDifferences(parts: ReadParts, meant: ReadParts): readonly string[] {
  const names = new Set([...parts.keys(), ...meant.keys()]);
  return [...names].filter((name) => !sameBytes(parts.get(name), meant.get(name)));
}

/**
 * Words and numbers alone, of a file that another program saved again: how it is set and its pictures
 * are that program's, and so are the running lines around the pages.
 */
function wordsAgainst(parts: ReadParts, record: DebriefRecord): readonly VerifyLine[] {
  const isBody = ({ where }: ShownLine) => where !== IN_THE_MARGIN;
  const numbers = citedNumbers(record.blocks).map(({ run }) => run.text);
  const [is, wanted] = [parts, madeFrom(record)].map((each) => shownDocx(each).lines);
  const lines = shownDifferences(is?.filter(isBody) ?? [], wanted?.filter(isBody) ?? [], numbers);
  const text =
    'words and numbers were compared with the record given; pictures, running lines and how it is set were not';
  return [...lines, { gravity: 'note', text }];
}

function madeFrom(record: DebriefRecord): ReadParts {
  const encoder = new TextEncoder();
  return new Map(
    [...renderDocx(sealRecord(record))].map(([name, part]) => [
      name,
      typeof part === 'string' ? encoder.encode(part) : part,
    ]),
  );
}

/** What comparing gives; where a part is no XML, that alone. */
function compared(compare: () => readonly VerifyLine[]): readonly VerifyLine[] | VerifyLine {
  try {
    return compare();
  } catch (error) {
    const why = error instanceof Error ? error.message.split('\n')[0] : '';
    return { gravity: 'differs', text: `a part of it is not well-formed XML: ${why}` };
  }
}

function shownAgainst(
  parts: ReadParts,
  meant: ReadParts,
  record: DebriefRecord,
): readonly VerifyLine[] {
  const [is, wanted] = [shownDocx(parts), shownDocx(meant)];
  const numbers = citedNumbers(record.blocks).map(({ run }) => run.text);
  const count = Math.max(is.pictures.length, wanted.pictures.length);
  const pictures = Array.from({ length: count }, (_, at) => at + 1).filter(
    (at) => !sameBytes(is.pictures[at - 1], wanted.pictures[at - 1]),
  );
  return [
    ...shownDifferences(is.lines, wanted.lines, numbers),
    ...pictures.map((at): VerifyLine => {
      const text = `picture ${at} is not that of the points in the record`;
      return { gravity: 'differs', text };
    }),
  ];
}

function againstRecord(
  parts: ReadParts,
  record: DebriefRecord,
  engine: string,
): readonly VerifyLine[] {
  const meant = madeFrom(record);
  const parting = partDifferences(parts, meant);
  if (parting.length === 0) return [];
  const found = compared(() => shownAgainst(parts, meant, record));
  if ('text' in found) return [found];
  const lines = found;
  if (record.engine !== engine) {
    const text = `the file was written by version ${record.engine}, this is ${engine}: how it is set and drawn may differ for that alone and was not held against the record`;
    return [
      ...lines.filter(({ text: said }) => !said.startsWith('picture ')),
      { gravity: 'note', text },
    ];
  }
  if (lines.length > 0) return lines;
  const text = `what it shows agrees, and how it is set is not what its record makes: it was saved again, or ${parting.slice(0, 4).join(', ')} changed`;
  return [{ gravity: 'differs', text }];
}

/**
 * Checks a document for word processors.
 *
 * @param parts of the package by name
 * @param engine version of this program's numerics: files of the same version are the same to the byte
 * @param given `published`: the hash that the publisher's list gives, where the reader has it; `record`:
 *   the text of a record beside the file, to compare with where the file lost its own
 * @returns `record` null where there is none that can be read
 */
export function verifyDocx(
  parts: ReadParts,
  engine: string,
  given: Readonly<{ published: string | null; record: string | null }>,
): VerifiedFile {
  const own = recordInDocx(parts);
  const json = given.record ?? own;
  if (json === null) {
    const unusable =
      'no published debrief: it carries no record that can be read; a program that saved it again may have dropped it: give the record with --record';
    return { record: null, unusable, sha256: '', lines: [], numbers: 0 };
  }
  const { published } = given;
  const claims = published === null ? [] : [{ by: 'the hash that was given', sha256: published }];
  const verified = verifyRecord(json, claims);
  if (verified.record === null) return { ...verified, numbers: 0 };
  const { record } = verified;
  const numbers = citedNumbers(record.blocks).length;
  if (given.record === null) {
    const lines = [...verified.lines, ...againstRecord(parts, record, engine)];
    return { ...verified, lines, numbers };
  }
  const other: readonly VerifyLine[] =
    own === null || own === json
      ? []
      : [{ gravity: 'differs', text: 'the record inside the file is another than the one given' }];
  const found = compared(() => wordsAgainst(parts, record));
  const lines = [...verified.lines, ...other, ...('text' in found ? [found] : found)];
  return { ...verified, lines, numbers };
}
