import type { OtherFilesView } from '@/lib/view/sources-view';
import { type ReplacedIn, ReplaceFile } from './replace-file';

type OtherFilesProps = Readonly<{ files: OtherFilesView; session: ReplacedIn }>;

/** The rest of the folder: description, plan and rules, which can be replaced as well; simulator runs. */
export function OtherFiles({ files, session }: OtherFilesProps) {
  if (files.names.length + files.folders.length === 0) return null;
  return (
    <section className="panel">
      <h2>Other files of the folder</h2>
      {files.names.map((name) => (
        <ReplaceFile key={name} file={name} session={session} />
      ))}
      {files.folders.map(({ folder, text }) => (
        <p key={folder}>
          <code>{folder}</code> {text}.{' '}
          <span className="soft">To replace some of them, import the folder anew.</span>
        </p>
      ))}
    </section>
  );
}
