/** The encoding a text is read in: as stated, as found, or assumed and said so. */
import type { Issue } from '@/lib/core/result';
import type { TextEncoding } from './source-scan';

/** What bytes that are no UTF-8 are read as; every byte is a character of it. */
const ASSUMED = 'windows-1252';

/**
 * Name for TextDecoder.
 *
 * @param found by byte order mark, by where the zero bytes stand, or by whether it is valid UTF-8
 * @param stated in session.yaml; null where it is not
 * @returns a null label with an error where the stated name is not known; a warning beside the label
 *   where an encoding was assumed
 */
export function chooseEncoding(
  found: TextEncoding,
  stated: string | null,
  file: string,
): Readonly<{ label: string | null; issue: Issue | null }> {
  // Stated without its order of bytes, which the mark at the start tells.
  if (stated === 'utf-16' && found === 'utf-16be') return { label: found, issue: null };
  if (stated !== null) {
    try {
      return { label: new TextDecoder(stated).encoding, issue: null };
    } catch {
      const issue: Issue = {
        code: 'encoding-unknown',
        severity: 'error',
        message: `the encoding "${stated}" is not known; expected a name such as utf-8, utf-16le, iso-8859-1 or windows-1252`,
        file,
        expected: 'a known encoding',
        received: stated,
      };
      return { label: null, issue };
    }
  }
  if (found !== 'other') return { label: found, issue: null };
  return {
    label: ASSUMED,
    issue: {
      code: 'encoding-assumed',
      severity: 'warning',
      message: `is not UTF-8 text and is read as ${ASSUMED} (Latin-1); if names or words look wrong, state the encoding of this source in session.yaml`,
      file,
      expected: 'UTF-8 text',
      received: 'bytes that are no UTF-8',
    },
  };
}
