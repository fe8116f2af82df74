/**
 * A server action is given whatever was posted to it, by a page of ours or by anything else. What no
 * page of ours sends is taken for nothing here, and the command then refuses it plainly.
 */

/** An id; anything but text is the id of nothing. */
export function postedId(posted: unknown): string {
  return typeof posted === 'string' ? posted : '';
}

/** A number; anything else is none that is ever counted. */
export function postedNumber(posted: unknown): number {
  return typeof posted === 'number' ? posted : Number.NaN;
}

/** A form; anything else is a form without fields. */
export function postedForm(posted: unknown): FormData {
  return posted instanceof FormData ? posted : new FormData();
}

/** One field of what was posted; undefined where it has none. */
export function postedField(posted: unknown, name: string): unknown {
  return typeof posted === 'object' && posted !== null ? Reflect.get(posted, name) : undefined;
}
