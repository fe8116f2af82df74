/** The verify command's arguments. */

export const VERIFY_USAGE = `usage: npm run --silent verify -- FILE [--sha256 HASH]

Checks a published debrief by itself: FILE is an exported page (.html) or a record (.json).
A page: its record is in canonical form and has the SHA-256 that the page says, and every number,
word, drawing and piece of evidence that it shows is that of the record; what differs is named.

  --sha256 HASH   the SHA-256 from the publisher's own list of published debriefs
  --help          print this

Ends with 0 when all agrees, 1 when something differs, 2 when FILE cannot be used.`;

export type VerifyArguments =
  | Readonly<{ kind: 'run'; file: string; sha256: string | null }>
  | Readonly<{ kind: 'help' }>
  | Readonly<{ kind: 'wrong'; problems: readonly string[] }>;

export function readVerifyArguments(args: readonly string[]): VerifyArguments {
  const problems: string[] = [];
  const files: string[] = [];
  let sha256: string | null = null;
  for (let index = 0; index < args.length; index += 1) {
    const argument = args[index] ?? '';
    if (argument === '--help' || argument === '-h') return { kind: 'help' };
    const option = /^--sha256(?:=(.*))?$/s.exec(argument);
    if (option !== null) {
      const given: string = option[1] ?? args[index + 1] ?? '';
      if (option[1] === undefined) index += 1;
      if (sha256 !== null) problems.push('--sha256 is given twice');
      sha256 = given.trim().toLowerCase();
      if (!/^[0-9a-f]{64}$/.test(sha256)) {
        problems.push(`--sha256 needs 64 hexadecimal digits, found "${given}"`);
      }
    } else if (argument.startsWith('-')) problems.push(`unknown option "${argument}"`);
    else files.push(argument);
  }
  const [file] = files;
  if (file === undefined || file === '') problems.push('FILE is missing: a page or a record');
  if (files.length > 1) problems.push(`one FILE is expected, found ${files.length}`);
  if (problems.length > 0 || file === undefined) return { kind: 'wrong', problems };
  return { kind: 'run', file, sha256 };
}
