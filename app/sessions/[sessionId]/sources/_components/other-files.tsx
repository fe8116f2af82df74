import { type ReplacedIn, ReplaceFile } from './replace-file';

type OtherFilesProps = Readonly<{ names: readonly string[]; session: ReplacedIn }>;

/** The rest of the folder: description, plan and rules, which can be replaced as well. */
export function OtherFiles({ names, session }: OtherFilesProps) {
  if (names.length === 0) return null;
  return (
    <section className="panel">
      <h2>Other files of the folder</h2>
      {names.map((name) => (
        <ReplaceFile key={name} file={name} session={session} />
      ))}
    </section>
  );
}
