/** The sheet of questions to the crew: traces, words said, question, answers; and what is typed. */
import type { PlotBand } from '../core/debrief/plot';
import type { SvgNode } from '../core/debrief/svg-node';
import { drawPlot } from '../core/debrief/svg-plot';
import type { CrewQuestion } from '../core/findings/crew-question';
import type { SessionEvent } from '../core/reconstruction/reconstruction';
import type { EnvelopeAnswer } from './charts/envelope-wire';
import { stripPlot } from './charts/strip-plot';
import type { TimeWindow } from './charts/time-window';
import { found, type ReadForm, type Typed } from './clock/clock-edit';
import { timelineHref } from './figure-view';
import { stampText } from './format-date';
import { plural } from './format-number';
import { formatSessionTime, formatStretch, spokenDuration } from './format-time';
import { fieldTime, logText, parseSessionTime } from './timeline-readout';
import type { Strip, StripCatalogue } from './timeline-strips';

/** A question with what the sheet draws and quotes beside it. */
export type AskedQuestion = Readonly<{
  question: CrewQuestion;
  strips: readonly Strip[];
  /** null where the session has no samples. */
  traces: EnvelopeAnswer | null;
  words: readonly SessionEvent[];
}>;

export type QuestionView = Readonly<{
  id: string;
  version: number;
  number: number;
  question: string;
  when: string;
  lasts: string;
  timelineHref: string;
  /** null where nothing can be drawn; `pictureNote` then says why. */
  picture: SvgNode | null;
  pictureNote: string | null;
  words: readonly Readonly<{ key: string; time: string; text: string }>[];
  /** Words of the stretch that the sheet leaves out. */
  more: string | null;
  answers: readonly Readonly<{ key: string; text: string; by: string }>[];
  by: string;
}>;

export type QuestionSheetView = Readonly<{
  standing: readonly QuestionView[];
  removed: readonly QuestionView[];
  /** `Three questions, one answered` in words. */
  summary: string;
}>;

/** Seconds shown before and after a stretch, as a part of its length, and at least so many. */
const BESIDE_SHARE = 0.25;
const LEAST_BESIDE_S = 5;
const MOST_STRIPS = 3;
/** Drawn where a question names no channel. */
const USUAL_STRIPS = ['range', 'closing_rate'];
/** A sheet of paper holds so many lines of talk beside a trace. */
const MOST_WORDS = 12;
const PICTURE_PX = { widthPx: 860, stripHeightPx: 90 };
const TIME_TICKS = 8;

/** The stretch with a little of what came before and after it. */
export function besideStretch({ fromS, toS }: TimeWindow): TimeWindow {
  const besideS = Math.max(LEAST_BESIDE_S, BESIDE_SHARE * (toS - fromS));
  return { fromS: fromS - besideS, toS: toS + besideS };
}

/** Strips that show the channels of a question, each channel once; the usual ones without any. */
export function questionStrips(
  catalogue: StripCatalogue,
  channels: readonly string[],
): readonly Strip[] {
  const wanted = channels.length === 0 ? USUAL_STRIPS : channels;
  const shown = new Set<string>();
  const strips = catalogue.strips.filter((strip) => {
    const keys = strip.series.filter(({ role }) => role === 'measured').map(({ key }) => key);
    const isWanted = keys.every((key) => wanted.includes(key) && !shown.has(key));
    if (isWanted) for (const key of keys) shown.add(key);
    return isWanted;
  });
  return strips.slice(0, MOST_STRIPS);
}

function pictureOf({ question, strips, traces }: AskedQuestion): SvgNode | null {
  if (traces === null) return null;
  const { fromS, toS } = question.anchor;
  const bands: PlotBand[] = [{ along: 'x', from: fromS, to: toS, tone: 'question', label: '' }];
  const plots = strips.flatMap((strip) => {
    const { plot, hasValues } = stripPlot({
      strip,
      window: besideStretch(question.anchor),
      timeTickCount: TIME_TICKS,
      answers: [traces],
      bands,
      marks: [],
    });
    // A limit that holds nowhere in the stretch is not named beside it.
    const series = plot.series.filter(({ y }) => y.some((value) => value !== null));
    return hasValues ? [{ ...plot, series }] : [];
  });
  if (plots.length === 0) return null;
  const names = strips.map(({ label }) => label).join(', ');
  return drawPlot(plots, {
    ...PICTURE_PX,
    idPrefix: `question-${question.number}`,
    title: `Traces of question ${question.number}`,
    description: `${names} over ${formatStretch(fromS, toS)} and a little beside it; the stretch is shaded.`,
  });
}

/** Words that a written and a spoken log both hold stand once. */
function onceOnly(words: readonly SessionEvent[]): readonly SessionEvent[] {
  const said = (word: SessionEvent) => `${word.timeS.toFixed(1)} ${word.speaker} ${word.text}`;
  const first = new Map(words.map((word) => [said(word), word] as const).reverse());
  return words.filter((word) => first.get(said(word)) === word);
}

function wordsOf(words: readonly SessionEvent[]): QuestionView['words'] {
  return words.slice(0, MOST_WORDS).map((word) => ({
    key: `${word.source}:${word.line}`,
    time: formatSessionTime(word.timeS),
    text: logText({ speaker: word.speaker, text: word.text ?? word.event ?? '' }),
  }));
}

function viewOf(asked: AskedQuestion): QuestionView {
  const { question } = asked;
  const words = onceOnly(asked.words);
  const { sessionId, fromS, toS } = question.anchor;
  const picture = pictureOf(asked);
  const left = words.length - MOST_WORDS;
  return {
    id: question.id,
    version: question.version,
    number: question.number,
    question: question.question,
    when: formatStretch(fromS, toS),
    lasts: spokenDuration(toS - fromS, 1),
    timelineHref: timelineHref(sessionId, fromS, toS),
    picture,
    pictureNote: picture === null ? 'No channel has a value in this stretch.' : null,
    words: wordsOf(words),
    more: left > 0 ? `${plural(left, 'entry', 'entries')} more in the log` : null,
    answers: question.answers.map(({ text, by, atIso }) => ({
      key: atIso,
      text,
      by: `${by}, written down ${stampText(atIso)}`,
    })),
    by: question.author === '' ? 'came with the folder' : `asked by ${question.author}`,
  };
}

export function questionSheetView(sheet: readonly AskedQuestion[]): QuestionSheetView {
  const isStanding = ({ question }: AskedQuestion) => question.removed === 'standing';
  const standing = sheet.filter(isStanding);
  const answered = standing.filter(({ question }) => question.answers.length > 0).length;
  return {
    standing: standing.map(viewOf),
    removed: sheet.filter((asked) => !isStanding(asked)).map(viewOf),
    summary: `${plural(standing.length, 'question')}, ${answered} answered`,
  };
}

/** What a new question's form starts with: the stretch and the channels of the address. */
export type QuestionStart = Readonly<{ fromS: string; toS: string; channels: readonly string[] }>;

type Asked = Readonly<Record<string, string | string[] | undefined>>;

export function questionStart(asked: Asked): QuestionStart {
  const time = (value: string | string[] | undefined) => {
    const seconds = typeof value === 'string' ? parseSessionTime(value) : null;
    return seconds === null ? '' : fieldTime(seconds);
  };
  const channels = [asked.c ?? []].flat().slice(0, 64);
  return { fromS: time(asked.from), toS: time(asked.to), channels };
}

const TIME_EXPECTED = 'Expected hh:mm:ss, hh:mm:ss.s or seconds.';

/** A question as typed, read into the command's input. */
export function readQuestion(typed: Typed, channels: readonly string[]): ReadForm {
  const fromS = parseSessionTime(typed.fromS ?? '');
  const toS = parseSessionTime(typed.toS ?? '');
  const fields: Record<string, string> = {};
  if (fromS === null) fields.fromS = `${found(typed.fromS)} ${TIME_EXPECTED}`;
  if (toS === null) fields.toS = `${found(typed.toS)} ${TIME_EXPECTED}`;
  if (Object.keys(fields).length > 0) return { word: null, fields };
  return { word: { question: typed.question ?? '', fromS, toS, channels }, fields: null };
}
