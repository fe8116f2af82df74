/** What one line of a plain text log is: stamped, a page header, or more of what was said. */
import { withFullDay } from '../../time/half-day';
import type { StampReader } from '../../time/stamp-reader';

/** A stamp with what follows it on the line. */
export type StampedLine = Readonly<{ sourceS: number; rest: string }>;

/** Elapsed time written as separate numbers: how many, days or hours first. */
export type SpacedStamp = 'none' | 'hours-minutes-seconds' | 'days-hours-minutes-seconds';

const SPACED_FOUR = /^\s*([-+−]?\d{1,3}\s+\d{2}\s+\d{2}\s+\d{2}(?:[.,]\d{1,9})?)(?=\s|$)(.*)$/;
const SPACED_THREE = /^\s*([-+−]?\d{1,3}\s+\d{2}\s+\d{2}(?:[.,]\d{1,9})?)(?=\s|$)(.*)$/;

/** Running heads and feet: `_page : 54`, `- 54 -`. */
const HEADER = /^\s*(?:_[a-z]+\s*:.*|[-–—]+\s*\d{1,6}\s*[-–—]+)\s*$/i;

/** Their parts: `Page 12 of 40`, `Tape 3/7`, `Day 2`, `(NET 1)`, `(STATION - REV 2)`. */
const HEADER_PART =
  /\b(?:page|tape|sheet|day)\s+[\dA-Z]{1,6}(?:\s*(?:of|\/|-)\s*\d{1,6})*|\((?:[A-Z][A-Z0-9 .,/'-]{0,40}\b)?(?:NET|REV|PASS)\b[A-Z0-9 .,/-]{0,40}\)|\b(?:end|beginning) of tape\b/gi;

/** `MET`, `GET`, `T`: what the stamp counts from, in front of it. */
const COUNTED_FROM = /^\s*(?:MET|GET|PET|T(?=\s*[-+−]))\s*[:=]?\s*/i;

/** Words before a colon that say what a number is, and words of the typist, not who speaks. */
const NO_SPEAKER =
  /^(?:range|rate|range rate|distance|closing|note|time|mark|speed|position|step|page|garbled?|pause|long pause|laughter|static|music|cough|unintelligible|inaudible|onboard|applause)$/i;

/** No running head is longer. */
const LONGEST_HEADER = 200;

/** True for a running head or foot, which nobody said. */
export function isPageHeader(line: string): boolean {
  if (HEADER.test(line)) return true;
  if (line.length > LONGEST_HEADER) return false;
  const rest = line.replace(HEADER_PART, '');
  return rest.length < line.length && /^[\s.,;-]*$/.test(rest);
}

/**
 * Digits of which some could not be read, in the places of a stamp; or two numbers, `3:15`, that leave
 * open what they count, before a name and a colon.
 */
const LIKE_STAMP =
  /^\s*[[(]?\d{1,4}:\d{2}[\])]?\s+[A-Z][A-Z0-9/]{0,11}:\s|^\s*[[(]?[-+−]?[\d?*]{1,4}(?::[\d?*lIO-]{1,3}){2,4}(?:[.,]\d+)?[\])]?(?=\s|$)|^\s*[\d?*]{1,3}(?:\s+[\d?*lIO-]{2}){2,3}(?=\s|$)/;

/** True for a line that begins as a stamp does, whatever can be read of it. */
export function beginsLikeStamp(line: string): boolean {
  return LIKE_STAMP.test(line);
}

/**
 * How a log of elapsed times writes spaced stamps: days come first where most lines that start with
 * three numbers start with four. What is said may start with a number too, and a stamp may be garbled.
 */
export function findSpacedStamp(lines: readonly string[]): SpacedStamp {
  let three = 0;
  let four = 0;
  for (const line of lines) {
    if (SPACED_FOUR.test(line)) four += 1;
    else if (SPACED_THREE.test(line)) three += 1;
  }
  if (three + four === 0) return 'none';
  return four > three ? 'days-hours-minutes-seconds' : 'hours-minutes-seconds';
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
  return Number.isNaN(sourceS) ? readDelimited(line, read) : { sourceS, rest };
}

/** `00:03:45:12,CDR,words`: a stamp, perhaps a name, and words with a separator between. */
function readDelimited(line: string, read: StampReader): StampedLine | null {
  const match = /^\s*([^\s,;|]{1,60})\s*[,;|]\s*(.*)$/.exec(line);
  const sourceS = match === null ? Number.NaN : read(match[1] ?? '');
  if (Number.isNaN(sourceS)) return null;
  return {
    sourceS,
    rest: (match?.[2] ?? '').replace(/^([A-Z][A-Z0-9/]{0,11})\s*[,;|]\s*/, '$1: '),
  };
}

/** A name in front of the stamp: `CDR 00:03:45:12 words`. */
const NAME_FIRST =
  /^\s*([A-Z][A-Z0-9/]{0,11}):?\s+(?=[[(]?[-+−]?\d{1,3}(?::\d{2}:\d{2}|\s\d{2}\s\d{2}\b))/;

const CLOCK_OF_UTC = /^\d{1,2}:\d{2}:\d{2}(?:[.,]\d{1,9})?Z$/;
/** What a clock shows, behind its stamp. */
const SCALE_BEHIND = /^\s*(?:UTC|GMT|UT)(?=[\s,;:|])/;

/** A reader of the stamp at the start of a line: `null` where the line has none. */
export function makeLineReader(
  readText: StampReader,
  spaced: SpacedStamp,
): (line: string) => StampedLine | null {
  const readStamp: StampReader = (text) => {
    const plain = text.replace('−', '-');
    const sourceS = readText(plain);
    // A time of day may say that it is of UTC, though its code only counts.
    return Number.isNaN(sourceS) && CLOCK_OF_UTC.test(plain)
      ? readText(plain.slice(0, -1))
      : sourceS;
  };
  return (line) => {
    // Nearly every line without a stamp starts with a letter; `MET`, `GET` and `T` are looked at.
    const counted = line.replace(COUNTED_FROM, '');
    const name = NAME_FIRST.exec(counted);
    const text = withFullDay(name === null ? counted : counted.slice(name[0].length));
    if (text === null) return null;
    if (!/^\s*[[(+−\-\d.]/.test(text)) return null;
    const read = readSpaced(text, spaced, readStamp) ?? readWords(text, readStamp);
    if (read === null) return null;
    const rest = read.rest.replace(SCALE_BEHIND, ' ');
    return { ...read, rest: name === null ? rest : `${name[1]}: ${rest}` };
  };
}

const NO_NAMES: ReadonlySet<string> = new Set();
/** With words behind, or alone where the words stand on the next line. */
const BARE = /^\s*([A-Z][A-Z0-9/]{0,7})(?:\s+(\S.*)|\s*)$/s;

function bareSpeaker(text: string, names: ReadonlySet<string>): RegExpExecArray | null {
  const match = names.size === 0 ? null : BARE.exec(text);
  return match !== null && names.has(match[1] ?? '') ? match : null;
}

/** Fewer lines show no habit. */
const FEWEST_SPOKEN = 5;

/**
 * Names in capitals that a log writes before the words without a mark: `C Reading you.`, or alone on
 * the stamp's line with the words below.
 *
 * @param spoken what follows the stamp of each line
 * @returns the names, where nearly every line begins with one of a few; else none
 */
export function findBareSpeakers(spoken: readonly string[]): ReadonlySet<string> {
  const filled = spoken.filter((text) => text.trim() !== '');
  const names = filled.flatMap((text) => BARE.exec(text)?.[1] ?? []);
  const different = new Set(names);
  const isHabit = names.length >= FEWEST_SPOKEN && names.length >= 0.8 * filled.length;
  return isHabit && 3 * different.size <= names.length ? different : NO_NAMES;
}

/** Who speaks and what; `speaker` is null where the line does not say. */
export type SpokenLine = Readonly<{ speaker: string | null; text: string }>;

/**
 * Who speaks: `CREW: words`, `Flight: words`, `Jones (CDR): words`, `CDR - words`, `CDR- words`, `(CDR) words`,
 * `[CDR] words`, or capitals set off by a tab or spaces, `CDR (HERON)  words`.
 *
 * @param text what follows the stamp, or a whole line without one
 * @param bare names that stand before the words with nothing but a space between
 */
export function readSpeaker(text: string, bare: ReadonlySet<string> = NO_NAMES): SpokenLine {
  const colon =
    /^\s*<?([A-Z][A-Z0-9 ._/-]{0,19}|[A-Z][\w.-]{0,14}(?: [A-Z0-9][\w.-]{0,14})?(?: \([\w .-]{1,20}\))?)>?:(?=\s|$)\s*(.*)$/s.exec(
      text,
    );
  const apart =
    colon ??
    /^\s*([A-Z][A-Z0-9/]{1,11}(?: \([A-Z][\w .-]{1,20}\))?)(?:\t\s*| {2,}| [-–—] |[-–—] )(\S.*)$/s.exec(
      text,
    ) ??
    /^\s*[(<[]([A-Z][A-Z0-9/]{0,11})[)>\]]\s+(\S.*)$/s.exec(text) ??
    bareSpeaker(text, bare);
  const name = apart?.[1]?.trim() ?? '';
  if (apart === null || NO_SPEAKER.test(name)) {
    return { speaker: null, text: text.replace(/^[\s:;,-]+/, '').trim() };
  }
  return { speaker: name, text: (apart[2] ?? '').trim() };
}
