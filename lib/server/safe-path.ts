/** Names of files as browsers and archives send them, made safe to join to a folder. */

const MAX_DEPTH = 6;
const MAX_SEGMENT_BYTES = 200;

/**
 * @param name a relative name with forward slashes, of any language
 * @returns the same name when every part of it is a plain file or folder name; else null
 */
export function safeRelativePath(name: string): string | null {
  const segments = name.normalize('NFC').split('/');
  if (segments.length > MAX_DEPTH || !segments.every(isSafeSegment)) return null;
  return segments.join('/');
}

function isSafeSegment(segment: string): boolean {
  return (
    segment !== '' &&
    segment !== '.' &&
    segment !== '..' &&
    segment === segment.trim() &&
    Buffer.byteLength(segment) <= MAX_SEGMENT_BYTES &&
    !/[\\/:*?"<>|\p{Cc}\p{Cf}\u2028\u2029]/u.test(segment)
  );
}

const MAX_SHOWN = 120;

/** A name as a message shows it: signs that hide or turn text round are written out, long ones cut. */
export function shownName(name: string): string {
  const visible = name.replace(
    /[\p{Cc}\p{Cf}\p{Cs}\u2028\u2029]/gu,
    (sign) => `\\u${(sign.codePointAt(0) ?? 0).toString(16).padStart(4, '0')}`,
  );
  return visible.length > MAX_SHOWN ? `${visible.slice(0, MAX_SHOWN)}…` : visible;
}

/** What is one name on disks that tell neither capitals nor composed letters apart. */
export function nameKey(name: string): string {
  return name.normalize('NFC').toLowerCase();
}

/** Files that operating systems add to folders and archives; never part of a session. */
export function isSystemFile(name: string): boolean {
  return name
    .split('/')
    .some(
      (part) =>
        part === '__MACOSX' ||
        part.startsWith('._') ||
        /^(\.DS_Store|Thumbs\.db|desktop\.ini)$/i.test(part),
    );
}
