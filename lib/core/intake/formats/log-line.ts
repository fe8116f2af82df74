/** What one line of a plain text log is: stamped, a page header, or more of what was said. */
import type { StampReader } from '../../time/stamp-reader';

/** A stamp with what follows it on the line. */
export type StampedLine = Readonly<{ sourceS: number; rest: string }>;

/** Elapsed time written as separate numbers: how many, days or hours first. */
export type SpacedStamp = 'none' | 'hours-minutes-seconds' | 'days-hours-minutes-seconds';

const SPACED_FOUR = /^\s*([-+−]?\d{1,3}\s+\d{2}\s+\d{2}\s+\d{2}(?:[.,]\d{1,9})?)(?=\s|$)(.*)$/;
const SPACED_THREE = /^\s*([-+−]?\d{1,3}\s+\d{2}\s+\d{2}(?:[.,]\d{1,9})?)(?=\s|$)(.*)$/;

/** Running heads and feet: `_page : 54`, `Page 12 of 40`, `Tape 3/7`, `- 54 -`. */
const HEADER =
  /^\s*(?:_[a-z]+\s*:.*|(?:page|tape|sheet)\s+[\dA-Z]{1,6}(?:\s*(?:of|\/|-)\s*\d{1,6})?|[-–—]+\s*\d{1,6}\s*[-–—]+)\s*$/i;

/** `MET`, `GET`, `T`: what the stamp counts from, in front of it. */
const COUNTED_FROM = /^\s*(?:MET|GET|PET|T(?=\s*[-+−]))\s*[:=]?\s*/i;

/** Words before a colon that say what a number is, not who speaks. */
const NO_SPEAKER =
  /^(?:range|rate|range rate|distance|closing|note|time|mark|speed|position|step|page)$/i;

/** True for a running head or foot, which nobody said. */
export function isPageHeader(line: string): boolean {
  return HEADER.test(line);
}

/**
 * How a log of elapsed times writes spaced stamps: days come first where every line that starts with
 * three numbers starts with four, for what is said may start with a number too.
 */
export function findSpacedStamp(lines: readonly string[]): SpacedStamp {
  let three = 0;
  let four = 0;
  for (const line of lines) {
    if (SPACED_FOUR.test(line)) four += 1;
    else if (SPACED_THREE.test(line)) three += 1;
  }
  if (three + four === 0) return 'none';
  return three === 0 ? 'days-hours-minutes-seconds' : 'hours-minutes-seconds';
}

function readSpaced(line: string, form: SpacedStamp, read: StampReader): StampedLine | null {
  if (form === 'none') return null;
  const match = (form === 'hours-minutes-seconds' ? SPACED_THREE : SPACED_FOUR).exec(line);
  if (match === null) return null;
  const sourceS = read((match[1] ?? '').replace(/\s+/g, ':'));
  return Number.isNaN(sourceS) ? null : { sourceS, rest: match[2] ?? '' };
}

/** The stamp in brackets, or the first word or two. */
function readWords(line: string, read: StampReader): StampedLine | null {
  const bracketed = /^\s*[[(]([^\])]{1,60})[\])]\s*(.*)$/.exec(line);
  if (bracketed !== null) {
    const sourceS = read((bracketed[1] ?? '').replace(COUNTED_FROM, ''));
    return Number.isNaN(sourceS) ? null : { sourceS, rest: bracketed[2] ?? '' };
  }
  const words = /^\s*(\S{1,60})(?:\s+(\S{1,60}))?/.exec(line);
  if (words === null) return null;
  const [one = '', first = '', second] = words;
  const both = second === undefined ? Number.NaN : read(`${first} ${second}`);
  if (!Number.isNaN(both)) return { sourceS: both, rest: line.slice(one.length) };
  const sourceS = read(first);
  const rest = line.slice(line.indexOf(first) + first.length);
  return Number.isNaN(sourceS) ? null : { sourceS, rest };
}

/** A reader of the stamp at the start of a line: `null` where the line has none. */
export function makeLineReader(
  read: StampReader,
  spaced: SpacedStamp,
): (line: string) => StampedLine | null {
  const readStamp: StampReader = (text) => read(text.replace('−', '-'));
  return (line) => {
    // Nearly every line without a stamp starts with a letter; `MET`, `GET` and `T` are looked at.
    const text = line.replace(COUNTED_FROM, '');
    if (!/^\s*[[(+−\-\d.]/.test(text)) return null;
    return readSpaced(text, spaced, readStamp) ?? readWords(text, readStamp);
  };
}

/** Who speaks and what; `speaker` is null where the line does not say. */
export type SpokenLine = Readonly<{ speaker: string | null; text: string }>;

/**
 * Who speaks: `CREW: words`, `Flight: words`, `CDR - words`, or capitals set off by a tab or spaces.
 *
 * @param text what follows the stamp, or a whole line without one
 */
export function readSpeaker(text: string): SpokenLine {
  const colon =
    /^\s*<?([A-Z][A-Z0-9 ._/-]{0,19}|[A-Z][\w.-]{0,14}(?: [A-Z0-9][\w.-]{0,14})?)>?:(?=\s|$)\s*(.*)$/s.exec(
      text,
    );
  const apart = colon ?? /^\s*([A-Z][A-Z0-9/]{1,11})(?:\t\s*| {2,}| [-–—] )(\S.*)$/s.exec(text);
  const name = apart?.[1]?.trim() ?? '';
  if (apart === null || NO_SPEAKER.test(name)) {
    return { speaker: null, text: text.replace(/^[\s:;,-]+/, '').trim() };
  }
  return { speaker: name, text: (apart[2] ?? '').trim() };
}
