/** From a line of the text that was read back to the file and line it came from. */
import type { DataResult } from './data-result';

/** From `fromLine` on, a line of the text is line `line - shift` of `file`. Ascending. */
export type LinePlaces = readonly Readonly<{ fromLine: number; file: string; shift: number }>[];

/** Places of a text whose lines are those of its file. */
export function ownLines(file: string): LinePlaces {
  return [{ fromLine: 1, file, shift: 0 }];
}

/** Places of one file among others, once its lines stand further on in a text; none before `fromLine`. */
export function movedPlaces(
  { name, source }: Readonly<{ name: string; source: Readonly<{ places: LinePlaces }> }>,
  { fromLine, shift }: Readonly<{ fromLine: number; shift: number }>,
): LinePlaces {
  return source.places.map((place) => ({
    fromLine: Math.max(fromLine, place.fromLine + shift),
    file: name,
    shift: place.shift + shift,
  }));
}

function placeOf(places: LinePlaces, line: number): Readonly<{ file: string; line: number }> {
  const place = places.findLast(({ fromLine }) => fromLine <= line) ?? places[0];
  return place === undefined ? { file: '', line } : { file: place.file, line: line - place.shift };
}

/** The same findings, with the lines of the files that a person has, named where there are several. */
export function placeLines(data: DataResult, places: LinePlaces): DataResult {
  const isOneFile = places.every(({ file }) => file === places[0]?.file);
  if (isOneFile && places.every(({ shift }) => shift === 0)) return data;
  const place = (line: number) => {
    const found = placeOf(places, line);
    return isOneFile ? { line: found.line } : found;
  };
  return {
    ...data,
    rejects: data.rejects.map((reject) => ({ ...reject, ...place(reject.line) })),
    stampFaults: data.stampFaults.map((fault) => ({ ...fault, ...place(fault.line) })),
    ...(data.dayTurns === undefined
      ? {}
      : { dayTurns: data.dayTurns.map((turn) => ({ ...turn, ...place(turn.line) })) }),
    ...(data.openTurn === undefined
      ? {}
      : { openTurn: { ...data.openTurn, ...place(data.openTurn.line) } }),
  };
}
