/** From a line of the text that was read back to the file and line it came from. */
import type { DataResult } from './data-result';

/** From `fromLine` on, a line of the text is line `line - shift` of `file`. Ascending. */
export type LinePlaces = readonly Readonly<{ fromLine: number; file: string; shift: number }>[];

/** Places of a text whose lines are those of its file. */
export function ownLines(file: string): LinePlaces {
  return [{ fromLine: 1, file, shift: 0 }];
}

function placeOf(places: LinePlaces, line: number): Readonly<{ file: string; line: number }> {
  const place = places.findLast(({ fromLine }) => fromLine <= line) ?? places[0];
  return place === undefined ? { file: '', line } : { file: place.file, line: line - place.shift };
}

/** The same findings, with the lines of the files that a person has. */
export function placeLines(data: DataResult, places: LinePlaces): DataResult {
  if (places.every(({ shift }) => shift === 0)) return data;
  return {
    ...data,
    rejects: data.rejects.map((reject) => ({ ...reject, ...placeOf(places, reject.line) })),
    stampFaults: data.stampFaults.map((fault) => ({
      ...fault,
      line: placeOf(places, fault.line).line,
    })),
  };
}
