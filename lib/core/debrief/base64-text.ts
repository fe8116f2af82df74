/** Text that travels inside another file as base64 of its UTF-8, so that its bytes stay what was hashed. */

/** @returns base64 without breaks of line */
export function base64OfText(text: string): string {
  const bytes = new TextEncoder().encode(text);
  const parts: string[] = [];
  for (let from = 0; from < bytes.length; from += 0x6000) {
    parts.push(btoa(String.fromCharCode(...bytes.subarray(from, from + 0x6000))));
  }
  return parts.join('');
}

/** @returns null where it is no base64, or no UTF-8: the caller says that there is no record */
export function textOfBase64(base64: string): string | null {
  try {
    const bytes = Uint8Array.from(atob(base64.trim()), (character) => character.charCodeAt(0));
    return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    return null; // the caller says what is lacking
  }
}
