import type { Metadata } from 'next';
import { notFound } from 'next/navigation';
import { HomeHeader } from '@/app/_components/shell/home-header';
import { loadDescription } from '@/lib/server/queries/load-description';
import { loadGoneUpload } from '@/lib/server/queries/load-open-descriptions';
import { isUploadId } from '@/lib/server/uploads/receive-file';
import { describeView } from '@/lib/view/describe-view';
import { DescribeForm } from './_components/describe-form';
import { GoneUpload } from './_components/gone-upload';

export const metadata: Metadata = { title: 'What are these files?' };

type DescribePageProps = Readonly<{ params: Promise<{ uploadId: string }> }>;

export default async function DescribePage({ params }: DescribePageProps) {
  const { uploadId } = await params;
  const found = await loadDescription(uploadId);
  if (found === null) {
    if (!isUploadId(uploadId)) notFound();
    const done = await loadGoneUpload(uploadId);
    return (
      <>
        <HomeHeader />
        <main className="page" id="main" tabIndex={-1}>
          <GoneUpload import={done} />
        </main>
      </>
    );
  }
  return (
    <>
      <HomeHeader />
      <main className="page" id="main" tabIndex={-1}>
        <div className="page-head">
          <h1>What are these files?</h1>
          <p>
            They came without a <code>session.yaml</code>. Below is what their names and values say;
            look at it, mend it, fill in what is open. It is written into a{' '}
            <code>session.yaml</code> beside the files, and a file with the same columns is proposed
            that way next time.
          </p>
        </div>
        <DescribeForm view={describeView(uploadId, found.sketch.files, found.proposal)} />
      </main>
    </>
  );
}
