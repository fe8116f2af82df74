/** Sets the PDF of a quick look and answers; a process of its own, since the typesetter keeps its memory. */
import type { Paper } from '@/lib/core/debrief/pdf/pdf-data';
import type { SealedRecord } from '@/lib/core/debrief/record';
import { answerParent } from '../jobs/answer-parent';
import { renderPdfs } from './pdf/render-pdf';

export type QuickPdfRequest = Readonly<{ sealed: SealedRecord; paper: Paper }>;

answerParent(async ({ sealed, paper }: QuickPdfRequest) => {
  const [rendered] = await renderPdfs(sealed, [paper]);
  return { kind: 'rendered', pdf: rendered?.pdf ?? Buffer.alloc(0) } as const;
});
