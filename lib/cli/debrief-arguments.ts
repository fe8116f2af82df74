/** The debrief command's arguments. */

export const USAGE = `usage: npm run --silent debrief -- FOLDER --out DIR [--explain KEY]

Reads the session folder FOLDER, writes DIR/reconstruction.json and DIR/debrief.html and prints a
short summary.

  --out DIR       where to write; made if it is not there
  --explain KEY   print the evidence of one figure, such as contact.closing_rate_mps;
                  without --out nothing is written
  --help          print this

Ends with 0, or with 2 and one line per problem when the folder cannot be used.`;

export type DebriefArguments = Readonly<{
  folder: string;
  out: string | null;
  explain: string | null;
}>;

export type ReadArguments =
  | Readonly<{ kind: 'run'; given: DebriefArguments }>
  | Readonly<{ kind: 'help' }>
  | Readonly<{ kind: 'wrong'; problems: readonly string[] }>;

export function readArguments(args: readonly string[]): ReadArguments {
  const problems: string[] = [];
  const folders: string[] = [];
  const values = new Map<string, string>();
  for (let index = 0; index < args.length; index += 1) {
    const argument = args[index] ?? '';
    if (argument === '--help' || argument === '-h') return { kind: 'help' };
    const option = /^--(out|explain)(?:=(.*))?$/s.exec(argument);
    if (option !== null) {
      const name = option[1] ?? '';
      const inline = option[2];
      const next = inline ?? args[index + 1];
      if (inline === undefined) index += 1;
      if (next === undefined || next === '' || (inline === undefined && next.startsWith('--'))) {
        problems.push(`--${name} needs a value`);
      } else if (values.has(name)) problems.push(`--${name} is given twice`);
      else values.set(name, next);
    } else if (argument.startsWith('-')) problems.push(`unknown option "${argument}"`);
    else folders.push(argument);
  }
  const [folder] = folders;
  if (folder === undefined || folder === '')
    problems.push('FOLDER is missing: the path of a session folder');
  if (folders.length > 1) problems.push(`one FOLDER is expected, found ${folders.length}`);
  const out = values.get('out') ?? null;
  const explain = values.get('explain') ?? null;
  if (out === null && explain === null && !problems.some((each) => each.startsWith('--out'))) {
    problems.push('--out DIR is missing');
  }
  if (problems.length > 0 || folder === undefined) return { kind: 'wrong', problems };
  return { kind: 'run', given: { folder, out, explain } };
}
