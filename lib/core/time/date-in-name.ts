/** A date in a file's name, as recorders and people write it there. */
import { dayFromDate, dayFromDayOfYear } from './calendar';

const DATES =
  /(?<!\d)((?:19|20)\d{2})(?:([-_.])(\d{2})\2(\d{2})|(\d{2})(\d{2})|[-_.]?(\d{3}))(?!\d)/g;

/**
 * The day that a name says: `tm-2031-04-17.csv`, `20310417_nav.csv`, `nav.2031-107.csv`.
 *
 * @param name with its folders; the last date counts
 * @returns days since 1970-01-01; null where no date stands in it
 */
export function dayInName(name: string): number | null {
  const found = [...name.matchAll(DATES)].flatMap((match) => {
    const [, year = '', , dashedMonth, dashedDay, month, dayOfMonth, dayOfYear] = match;
    const day =
      dayOfYear === undefined
        ? dayFromDate(Number(year), Number(dashedMonth ?? month), Number(dashedDay ?? dayOfMonth))
        : dayFromDayOfYear(Number(year), Number(dayOfYear));
    return Number.isNaN(day) ? [] : [day];
  });
  return found.at(-1) ?? null;
}
