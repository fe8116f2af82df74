/** Draft and material -> record and page. Runs in the publishing process, and in tests. */
import { checkDocument } from '@/lib/core/debrief/check-document';
import { renderHtml } from '@/lib/core/debrief/html/render-html';
import { BUILT_IN_BLOCKS } from '@/lib/core/debrief/nodes/built-in-blocks';
import { makeRecord, sealRecord } from '@/lib/core/debrief/record';
import { resolveDocument } from '@/lib/core/debrief/resolve';
import { readEmbeddedFonts } from './embedded-fonts';
import { channelsOf, fullMaterial } from './full-material';
import type { PublishAnswer, PublishRequest } from './publish-messages';

export async function renderDebrief(request: PublishRequest): Promise<PublishAnswer> {
  const { doc, outline, imprint } = request;
  const material = await fullMaterial(outline, channelsOf(doc));
  const stops = checkDocument(doc, material, BUILT_IN_BLOCKS).filter(
    (check) => check.gravity === 'stops',
  );
  if (stops.length > 0) {
    return { kind: 'open-blocks', messages: stops.map((check) => check.message) };
  }
  const resolved = resolveDocument(doc, material, BUILT_IN_BLOCKS);
  const sealed = sealRecord(makeRecord(resolved, material, imprint));
  const html = renderHtml(sealed, await readEmbeddedFonts());
  return {
    kind: 'rendered',
    rendered: { recordJson: sealed.json, sha256: sealed.sha256, html },
  };
}
