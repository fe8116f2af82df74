/** The verify command's arguments. */

export const VERIFY_USAGE = `usage: npm run --silent verify -- FILE [--sha256 HASH] [--record RECORD]
       npm run --silent verify -- --recompute PACKAGE [--session FOLDER]

Checks a published debrief by itself. FILE is an exported page (.html), a PDF, a DOCX, the Markdown
(.zip), a record (.json) or the manifest (.sha256) of a publication.
A page, PDF, DOCX or Markdown: its record is in canonical form, and every number, word and drawing
that it shows is that of the record; what differs is named. A page has its evidence compared too; a
PDF is set again, and what differs is named with pdftotext (poppler-utils) where that is installed.
A manifest: its signature is that of the key beside it, and so is the SHA-256 of each file there.
A data package (.zip): each cited number is computed again from the data that travel in it, and the
largest difference is told.

  --sha256 HASH       of the record, from the publisher's own list of published debriefs
  --record RECORD     the record (.json) of a DOCX that a word processor saved again and that lost it:
                      its numbers, words and addresses are compared, not how it is set and drawn
  --recompute PACKAGE compute a data package again
  --session FOLDER    the session folder, where it was too large to travel in the package
  --help              print this

Ends with 0 when all agrees, 1 when something differs, 2 when FILE cannot be used.`;

export type VerifyArguments =
  | Readonly<{ kind: 'run'; file: string; sha256: string | null; record: string | null }>
  | Readonly<{ kind: 'recompute'; file: string; session: string | null }>
  | Readonly<{ kind: 'help' }>
  | Readonly<{ kind: 'wrong'; problems: readonly string[] }>;

const OPTION = /^(--sha256|--record|--recompute|--session)(?:=(.*))?$/s;

type Read = Readonly<{
  options: ReadonlyMap<string, string>;
  files: readonly string[];
  problems: string[];
}>;

function readAll(args: readonly string[]): Read | null {
  const options = new Map<string, string>();
  const [files, problems]: [string[], string[]] = [[], []];
  for (let index = 0; index < args.length; index += 1) {
    const argument = args[index] ?? '';
    if (argument === '--help' || argument === '-h') return null;
    const [, name, given] = OPTION.exec(argument) ?? [];
    if (name !== undefined) {
      if (given === undefined) index += 1;
      if (options.has(name)) problems.push(`${name} is given twice`);
      options.set(name, given ?? args[index] ?? '');
    } else if (argument.startsWith('-')) problems.push(`unknown option "${argument}"`);
    else files.push(argument);
  }
  return { options, files, problems };
}

export function readVerifyArguments(args: readonly string[]): VerifyArguments {
  const read = readAll(args);
  if (read === null) return { kind: 'help' };
  const { options, files, problems } = read;
  const zip = options.get('--recompute');
  const session = options.get('--session');
  const record = options.get('--record');
  const hash = options.get('--sha256')?.trim().toLowerCase();
  if (zip === '') problems.push('--recompute needs a data package (.zip)');
  if (session === '') problems.push('--session needs a folder');
  if (session !== undefined && zip === undefined) problems.push('--session goes with --recompute');
  if (record === '') problems.push('--record needs a record (.json)');
  if (record !== undefined && zip !== undefined) problems.push('--record goes with a DOCX');
  if (hash !== undefined && !/^[0-9a-f]{64}$/.test(hash)) {
    problems.push(`--sha256 needs 64 hexadecimal digits, found "${options.get('--sha256')}"`);
  }
  const [file = zip] = files;
  if (file === undefined || file === '') {
    problems.push('FILE is missing: a page, a document, a record or a manifest');
  }
  if (hash !== undefined && (zip !== undefined || file?.endsWith('.sha256') === true)) {
    problems.push('--sha256 goes with a page, a document or a record');
  }
  const count = files.length + (zip === undefined ? 0 : 1);
  if (count > 1) problems.push(`one FILE is expected, found ${count}`);
  if (problems.length > 0 || file === undefined) return { kind: 'wrong', problems };
  return zip === undefined
    ? { kind: 'run', file, sha256: hash ?? null, record: record ?? null }
    : { kind: 'recompute', file, session: session ?? null };
}
