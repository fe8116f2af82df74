/**
 * A record as PDF/A-3a: tagged, with the record attached. Runs in a process of its own only: the
 * typesetter's memory grows with each document.
 *
 * Source: ISO 19005-3:2012 (PDF/A-3), conformance level A; checked by the typesetter's own validator.
 */
import { readFile } from 'node:fs/promises';
import path from 'node:path';
import { NodeCompiler } from '@myriaddreamin/typst-ts-node-compiler';
import { glyphText } from '@/lib/core/debrief/pdf/glyph-text';
import { type Paper, pdfData } from '@/lib/core/debrief/pdf/pdf-data';
import type { SealedRecord } from '@/lib/core/debrief/record';
import { loadPdfFonts } from './pdf-fonts';

export type RenderedPdf = Readonly<{ pdf: Buffer; pages: number }>;

/** Names under which the typesetter finds what it is given; nothing is written to the disk. */
const WORKSPACE = path.join(process.cwd(), 'lib', 'server', 'publish', 'pdf');
const TEMPLATE = path.join(WORKSPACE, 'debrief.typ');

/**
 * Sets a record.
 *
 * @param papers sizes wanted
 * @returns one document a size; the same bytes for the same record, template and fonts
 */
export async function renderPdfs(
  sealed: SealedRecord,
  papers: readonly Paper[],
): Promise<readonly RenderedPdf[]> {
  const fonts = await loadPdfFonts();
  const compiler = NodeCompiler.create({
    workspace: WORKSPACE,
    fontArgs: [{ fontBlobs: [...fonts.files] }],
  });
  compiler.addSource(TEMPLATE, await readFile(TEMPLATE, 'utf8'));
  const place = (name: string) => path.join(WORKSPACE, name);
  compiler.mapShadow(place('record.json'), Buffer.from(sealed.json));
  return papers.map((paper) => {
    const { doc, figures } = pdfData(sealed, paper, glyphText(fonts.coverage));
    compiler.mapShadow(place('doc.json'), Buffer.from(JSON.stringify(doc)));
    for (const [name, svg] of figures) compiler.mapShadow(place(name), Buffer.from(svg));
    const result = compiler.compile({ mainFilePath: TEMPLATE });
    const document = result.result;
    if (document === null) {
      const error = result.takeError();
      const why = error === null ? [] : compiler.fetchDiagnostics(error);
      throw new Error(`the PDF could not be set: ${JSON.stringify(why).slice(0, 1000)}`);
    }
    const pdf = compiler.pdf(document, {
      pdfStandard: 'a-3a',
      pdfTags: true,
      creationTimestamp: Math.floor(Date.parse(sealed.record.publishedAtIso) / 1000),
    });
    const { numOfPages: pages } = document;
    compiler.evictCache(0);
    return { pdf, pages };
  });
}
