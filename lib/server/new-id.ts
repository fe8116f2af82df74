/** Row ids: short enough for an address, random enough never to meet. */
import { randomBytes } from 'node:crypto';

const ALPHABET = '0123456789abcdefghjkmnpqrstvwxyz';

/** Sixteen letters and digits that are not easily taken for one another; 80 random bits. */
export function newId(): string {
  return Array.from(randomBytes(16), (byte) => ALPHABET.charAt(byte & 31)).join('');
}
