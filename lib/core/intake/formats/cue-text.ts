/** Text of a caption cue: tags taken off, voices found, character references resolved. */

import { readSpeaker } from './log-line';

/** What one voice says in a cue; `speaker` is null where no voice is marked. */
export type SpokenPart = Readonly<{ speaker: string | null; text: string }>;

const NAMED_REFERENCES: ReadonlyMap<string, string> = new Map<string, string>(
  Object.entries({
    amp: '&',
    lt: '<',
    gt: '>',
    quot: '"',
    apos: "'",
    nbsp: '\u00a0',
    lrm: '\u200e',
    rlm: '\u200f',
  }),
);

/** Resolves `&amp;` and the other references that captions use, and numeric ones. */
function resolveReferences(text: string): string {
  return text.replace(
    /&(?:#(\d{1,7})|#[xX]([\da-fA-F]{1,6})|([a-z]+));/g,
    (whole, decimal, hex, name) => {
      if (name !== undefined) return NAMED_REFERENCES.get(name) ?? whole;
      const code = decimal === undefined ? Number.parseInt(hex, 16) : Number(decimal);
      return code > 0 && code <= 0x10ffff ? String.fromCodePoint(code) : whole;
    },
  );
}

function tidy(text: string): string {
  const plain = text.includes('&') ? resolveReferences(text) : text;
  // Most text has nothing but single spaces; looking is cheaper than replacing them all.
  return (/[\t-\r]|\s\s/.test(plain) ? plain.replace(/[^\S\u00a0]+/g, ' ') : plain).trim();
}

/** One voice and no other tag, which most cues are. */
const ONE_VOICE = /^<v(?:\.[^\s>]*)?\s+([^<>]+)>([^<]*)(?:<\/v>)?$/;

/** `CREW: words` where no voice is marked: captions made without voice spans name the speaker so. */
function withLabel(part: SpokenPart): SpokenPart {
  if (part.speaker !== null) return part;
  const label = /^([A-Z][A-Z0-9 ._/-]{0,19}):\s+(\S.*)$/s.exec(part.text);
  if (label === null || readSpeaker(part.text).speaker === null) return part;
  return { speaker: label[1] ?? null, text: label[2] ?? part.text };
}

/**
 * Parts of a cue by voice, or by the name in capitals that a part starts with.
 *
 * @param raw the cue's lines, joined by line breaks
 * @returns one part for each `<v name>` span and for text outside of one, empty ones left out
 *
 * Source: W3C WebVTT, cue text tokenizer (start tags with classes and annotation).
 */
export function readCueText(raw: string): readonly SpokenPart[] {
  const one = raw.startsWith('<v') ? ONE_VOICE.exec(raw) : null;
  if (one !== null || !raw.includes('<')) {
    const said = tidy(one?.[2] ?? raw);
    const name = tidy(one?.[1] ?? '');
    return said === '' ? [] : [withLabel({ speaker: name === '' ? null : name, text: said })];
  }
  const parts: SpokenPart[] = [];
  let speaker: string | null = null;
  let text = '';
  const flush = () => {
    const said = tidy(text);
    if (said !== '') parts.push(withLabel({ speaker, text: said }));
    text = '';
  };
  for (const piece of raw.split(/(<[^>]*>?)/)) {
    const voice = /^<v(?:\.[^\s>]*)?(?:\s+([^>]*))?>?$/.exec(piece);
    if (voice !== null) {
      flush();
      const name = tidy(voice[1] ?? '');
      speaker = name === '' ? null : name;
    } else if (piece === '</v>') {
      flush();
      speaker = null;
    } else if (!piece.startsWith('<')) text += piece;
  }
  flush();
  return parts;
}
