/** A description as far as a person had come with it, kept by the browser until it is used. */
import type { SessionDescription } from '../core/intake/proposal/session-proposal';

const PREFIX = 'description-';

/** The key under which it is kept. */
export function keptKey(uploadId: string): string {
  return `${PREFIX}${uploadId}`;
}

/** True for the key of any description. */
export function isKeptKey(key: string): boolean {
  return key.startsWith(PREFIX);
}

function isRecord(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/** True for values of the same shape, text for text and list for list; null fits any. */
function isAlike(value: unknown, proposed: unknown): boolean {
  if (value === null || proposed === null) return value !== undefined;
  if (Array.isArray(proposed)) return Array.isArray(value);
  if (!isRecord(proposed)) return typeof value === typeof proposed;
  return (
    isRecord(value) && Object.keys(proposed).every((key) => isAlike(value[key], proposed[key]))
  );
}

function isOf(value: unknown, proposed: SessionDescription): value is SessionDescription {
  if (!isAlike(value, proposed) || !isRecord(value) || !Array.isArray(value.files)) return false;
  const files: readonly unknown[] = value.files;
  return (
    files.length === proposed.files.length &&
    files.every((file, index) => {
      const own = proposed.files[index];
      if (!isRecord(file) || own === undefined || !isAlike(file, own)) return false;
      const channels: readonly unknown[] = Array.isArray(file.channels) ? file.channels : [];
      return (
        file.file === own.file &&
        channels.length === own.channels.length &&
        channels.every((each, at) => isRecord(each) && each.column === own.channels[at]?.column)
      );
    })
  );
}

/**
 * Reads what was kept.
 *
 * @param text as kept; null where nothing was
 * @param proposed the proposal for the same upload
 * @returns null where it is no description of these files and columns
 */
export function readKept(
  text: string | null,
  proposed: SessionDescription,
): SessionDescription | null {
  if (text === null) return null;
  try {
    const value: unknown = JSON.parse(text);
    return isOf(value, proposed) ? value : null;
  } catch {
    // Not ours, or cut: the proposal stands.
    return null;
  }
}
