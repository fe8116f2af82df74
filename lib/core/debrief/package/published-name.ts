/** What the files of one publication are called once they are saved. */

export type PublishedPlace = Readonly<{ number: number; revision: number }>;

/**
 * `record.json` of debrief 12, revision 2, is saved as `record-12-r2.json`.
 *
 * @param name as it is stored
 */
export function publishedName(name: string, { number, revision }: PublishedPlace): string {
  const [stem = '', ending = ''] = name.split(/\.(?=[^.]*$)/);
  return `${stem}-${number}-r${revision}.${ending}`;
}

/** Stored names of the manifest, of its signature and of the key that it is checked with. */
export const MANIFEST_FILE = 'manifest.sha256';
export const SIGNATURE_FILE = 'manifest.sig';
export const KEY_FILE = 'signing-key.pem';
export const PACKAGE_FILE = 'data.zip';

/** Stored name of the text as Markdown with its figures. */
export const MARKDOWN_FILE = 'markdown.zip';

/** Stored names of the PDF, by the size of its paper. */
export const PDF_FILES = { a4: 'debrief-a4.pdf', 'us-letter': 'debrief-letter.pdf' } as const;

/** Stored name of the document for word processors. */
export const DOCX_FILE = 'debrief.docx';
