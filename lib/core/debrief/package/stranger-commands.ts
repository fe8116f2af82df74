/** How a stranger checks a publication without this program: commands to type, printed in it. */
import {
  KEY_FILE,
  MANIFEST_FILE,
  PACKAGE_FILE,
  PDF_FILES,
  type PublishedPlace,
  publishedName,
  SIGNATURE_FILE,
} from './published-name';

export type StrangerCommand = Readonly<{ what: string; command: string }>;

/**
 * Commands of GNU coreutils and of OpenSSL 3, in the folder in which the files were saved.
 *
 * Source: OpenSSL 3 manual, openssl-pkeyutl(1): `-rawin` signs and verifies the data itself, which
 * Ed25519 (RFC 8032) needs.
 */
export function strangerCommands(place: PublishedPlace): readonly StrangerCommand[] {
  const named = (name: string) => publishedName(name, place);
  return [
    {
      what: 'The manifest was signed with the publisher\u2019s key',
      command: `openssl pkeyutl -verify -pubin -inkey ${named(KEY_FILE)} -rawin -in ${named(MANIFEST_FILE)} -sigfile ${named(SIGNATURE_FILE)}`,
    },
    {
      what: 'No byte of the files was changed',
      command: `sha256sum --ignore-missing -c ${named(MANIFEST_FILE)}`,
    },
    {
      what: 'The key is the publisher\u2019s: compare with the key\u2019s SHA-256 under Record',
      command: `openssl pkey -pubin -in ${named(KEY_FILE)} -outform DER | sha256sum`,
    },
    {
      what: 'The PDF carries the same record: its SHA-256 is that of the record',
      command: `pdfdetach -savefile record.json -o record-in-pdf.json ${named(PDF_FILES.a4)} && sha256sum record-in-pdf.json`,
    },
    {
      what: 'Each number follows from the data (with this program)',
      command: `npm run --silent verify -- --recompute ${named(PACKAGE_FILE)}`,
    },
  ];
}
