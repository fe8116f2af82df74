/** Sentences that leave their times to the clock of whoever reads them. */

const MARK = '\u2063';

/** A time inside a sentence that the reader's clock will write: `tellTimes` puts it in. */
export function toldTime(tS: number): string {
  return `${MARK}${tS}${MARK}`;
}

/** Two times as one stretch inside a sentence. */
export function toldStretch(fromS: number, toS: number): string {
  return fromS === toS ? toldTime(fromS) : `${toldTime(fromS)} to ${toldTime(toS)}`;
}

const TOLD = new RegExp(`${MARK}(-?[0-9.e+-]+)${MARK}`, 'g');

/** A sentence with the times in it as a clock writes them. */
export function tellTimes(
  sentence: string,
  clock: Readonly<{ text: (tS: number) => string }>,
): string {
  return sentence.replace(TOLD, (_, seconds: string) => clock.text(Number(seconds)));
}
