/** The quick look of a session: made when it is asked for, kept nowhere. */
import { renderHtml } from '@/lib/core/debrief/html/render-html';
import type { Paper } from '@/lib/core/debrief/pdf/pdf-data';
import { quickLook } from '@/lib/core/debrief/quick-look/quick-look';
import { makeQuickRecord, type SealedRecord, sealRecord } from '@/lib/core/debrief/record';
import { localActor } from '../actor';
import type { Broken } from '../jobs/child-answer';
import { runInChild } from '../jobs/run-in-child';
import { readEmbeddedFonts } from './embedded-fonts';
import { loadMaterialOutline, outlineMaterial } from './load-material';

/** @returns null where there is no such session, or none reconstructed yet */
export async function loadQuickLook(sessionId: string): Promise<SealedRecord | null> {
  const outline = await loadMaterialOutline(sessionId);
  if (outline === null) return null;
  const material = await outlineMaterial(outline);
  const imprint = { publishedAtIso: new Date().toISOString(), publishedBy: localActor().name };
  return sealRecord(makeQuickRecord(quickLook(material), material, imprint));
}

/** The quick look as a page that stands alone. */
export async function quickLookHtml(sealed: SealedRecord): Promise<string> {
  return renderHtml(sealed, await readEmbeddedFonts());
}

type PdfAnswer = Readonly<{ kind: 'rendered'; pdf: Uint8Array }> | Broken;

/** Longer than two pages take on a machine that has other work. */
const LIMIT_MS = 60_000;

/** The one that is being set: the next waits for it, however many are asked for at once. */
let lastPdf: Promise<unknown> = Promise.resolve();

/** The quick look as a PDF; one process at a time. */
export function quickLookPdf(sealed: SealedRecord, paper: Paper): Promise<Uint8Array> {
  const pdf = lastPdf.then(() => setPdf(sealed, paper));
  lastPdf = pdf.catch(() => null);
  return pdf;
}

function setPdf(sealed: SealedRecord, paper: Paper): Promise<Uint8Array> {
  return runInChild<PdfAnswer, Uint8Array>({
    entry: 'quick-look-child',
    request: { sealed, paper },
    take: ({ pdf }) => pdf,
    signal: AbortSignal.timeout(LIMIT_MS),
  });
}
