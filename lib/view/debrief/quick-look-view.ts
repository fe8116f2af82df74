/** The quick look as its page shows it. */
import type { SealedRecord } from '../../core/debrief/record';
import { utcMinuteText } from '../../core/time/session-time-text';
import { type BlockView, blockView } from './document-view';
import { quickLookHref } from './quick-look-href';

export type QuickLookView = Readonly<{
  banner: string;
  made: string;
  caution: string;
  blocks: readonly BlockView[];
  downloads: readonly Readonly<{ href: string; text: string }>[];
  debriefHref: string;
}>;

export function quickLookView({ record }: SealedRecord, sessionId: string): QuickLookView {
  const { evidence, sources } = record;
  const frame = { evidence, sources, sessionId, basis: record };
  const href = quickLookHref(sessionId);
  return {
    banner: record.banner ?? '',
    made: `Made on ${utcMinuteText(record.publishedAtIso)}; ${record.session.title} (${record.session.kind}).`,
    caution: record.caution,
    blocks: record.blocks.map((block) => blockView(block, frame)),
    downloads: [
      { href: `${href}/quick-look-a4.pdf`, text: 'PDF, A4' },
      { href: `${href}/quick-look-letter.pdf`, text: 'PDF, Letter' },
      { href: `${href}/quick-look.html`, text: 'Save as a page (HTML)' },
    ],
    debriefHref: `/sessions/${encodeURIComponent(sessionId)}/debrief`,
  };
}
