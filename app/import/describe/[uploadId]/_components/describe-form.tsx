'use client';

import { useRouter } from 'next/navigation';
import { useEffect, useState } from 'react';
import { IssueTable } from '@/app/_components/tables/issue-table';
import { forgetUpload } from '@/app/import/_components/send-files';
import type {
  DescribedFile,
  SessionDescription,
} from '@/lib/core/intake/proposal/session-proposal';
import type { DescribeView } from '@/lib/view/describe-view';
import type { IssueRow } from '@/lib/view/import-view';
import { checkDescriptionAction, describeUploadAction } from '../actions';
import { FilePanel } from './file-panel';
import { SessionPanel } from './session-panel';
import { useKeptDescription } from './use-kept-description';

type DescribeFormProps = Readonly<{ view: DescribeView }>;

const CHECK_AFTER_MS = 300;

/** What is still open in a description, asked again a moment after each change. */
function useChecked(uploadId: string, description: SessionDescription) {
  const [issues, setIssues] = useState<readonly IssueRow[]>([]);
  const [isGone, setIsGone] = useState(false);
  useEffect(() => {
    let isStale = false;
    const timer = setTimeout(async () => {
      // Without an answer the last one stays; the server judges again before it imports.
      const found = await checkDescriptionAction(uploadId, description).catch(() => undefined);
      if (isStale || found === undefined) return;
      setIsGone(found === null);
      setIssues(found ?? []);
    }, CHECK_AFTER_MS);
    return () => {
      isStale = true;
      clearTimeout(timer);
    };
  }, [uploadId, description]);
  return { issues, isGone };
}

/** Says what each file is, with proposals to accept and rows to look at. */
export function DescribeForm({ view }: DescribeFormProps) {
  const router = useRouter();
  const { description, change, forget: forgetKept } = useKeptDescription(view);
  const [problem, setProblem] = useState<string | null>(null);
  const [isSending, setIsSending] = useState(false);
  const { issues, isGone } = useChecked(view.uploadId, description);
  const isOpen = issues.some(({ severity }) => severity === 'error');

  function changeFile(next: DescribedFile): void {
    const files = description.files.map((file) => (file.file === next.file ? next : file));
    change({ ...description, files });
  }

  async function submit(): Promise<void> {
    setIsSending(true);
    const done = await describeUploadAction(view.uploadId, description).catch(() => null);
    setIsSending(false);
    // What was typed stays kept: an import that fails comes back to it.
    if (done?.ok === true) return router.push(`/import/${done.data.jobId}`);
    setProblem(done?.message ?? 'The server did not answer. Nothing was lost; try again.');
  }

  async function forget(): Promise<void> {
    await forgetUpload(view.uploadId);
    forgetKept();
    router.push('/import');
  }

  return (
    <form
      className="stack"
      onSubmit={(event) => {
        event.preventDefault();
        void submit();
      }}
    >
      <SessionPanel description={description} onChange={change} />
      {description.files.map((file, index) => {
        const shown = view.files[index];
        return (
          shown !== undefined && (
            <FilePanel key={file.file} file={file} shown={shown} onChange={changeFile} />
          )
        );
      })}
      <section className="panel stack" aria-label="Before the import">
        <h2>
          {isOpen ? 'Still open' : issues.length > 0 ? 'Worth a look' : 'Nothing is left open'}
        </h2>
        <div aria-live="polite">
          {issues.length > 0 ? (
            <IssueTable rows={issues} />
          ) : (
            <p className="soft">
              What the rows that were looked at say agrees with the description.
            </p>
          )}
        </div>
        <p className="beyond" role="alert">
          {isGone ? 'These files are no longer there: send them again.' : problem}
        </p>
        <div className="row">
          <button className="button primary" type="submit" disabled={isOpen || isGone || isSending}>
            {isSending ? 'Starting the import' : 'Import as described'}
          </button>
          <button className="button" type="button" onClick={forget}>
            Discard these files
          </button>
        </div>
      </section>
    </form>
  );
}
