/** Other ways to write a unit, brought to the one that the table of units holds. */

/** Names of units in full, singular; common practice, no source. */
const NAMES: ReadonlyMap<string, string> = new Map([
  ['metre', 'm'],
  ['meter', 'm'],
  ['kilometre', 'km'],
  ['kilometer', 'km'],
  ['centimetre', 'cm'],
  ['centimeter', 'cm'],
  ['millimetre', 'mm'],
  ['millimeter', 'mm'],
  ['foot', 'ft'],
  ['feet', 'ft'],
  ['inch', 'in'],
  ['inche', 'in'],
  ['yard', 'yd'],
  ['mile', 'mi'],
  ['nautical mile', 'nmi'],
  ['knot', 'kt'],
  ['kt', 'kt'],
  ['radian', 'rad'],
  ['milliradian', 'mrad'],
  ['degree', 'deg'],
  ['deg', 'deg'],
  ['second', 's'],
  ['sec', 's'],
  ['millisecond', 'ms'],
  ['microsecond', 'us'],
  ['nanosecond', 'ns'],
  ['minute', 'min'],
  ['min', 'min'],
  ['hour', 'h'],
  ['hr', 'h'],
  ['day', 'd'],
  ['kilogram', 'kg'],
  ['gram', 'g'],
  ['pound', 'lb'],
  ['lb', 'lb'],
  ['newton', 'N'],
  ['volt', 'V'],
  ['ampere', 'A'],
  ['amp', 'A'],
  ['watt', 'W'],
  ['kelvin', 'K'],
  ['celsius', 'degC'],
  ['percent', '%'],
  ['unitless', '1'],
  ['dimensionless', '1'],
]);

/** Symbols that files write in capitals throughout, where no other unit is meant by that. */
const IN_CAPITALS: ReadonlySet<string> = new Set(
  ['m', 'km', 'cm', 'ft', 'in', 'yd', 'nmi', 'rad', 'deg', 's', 'kg', 'lb', 'lbm'].concat([
    'mps',
    'fps',
    'dps',
    'rpm',
    'kt',
  ]),
);

/** One factor of a unit: its symbol where it is written in full, in the plural or in capitals. */
function plainFactor(text: string): string {
  const lower = text.toLowerCase();
  const isShouted = text === text.toUpperCase() && IN_CAPITALS.has(lower);
  if (isShouted) return lower;
  // A capital inside (`mSec`, `MPa`) is no name in full.
  if (text.slice(1) !== lower.slice(1) && text !== text.toUpperCase()) return text;
  return NAMES.get(lower) ?? NAMES.get(lower.replace(/s$/, '')) ?? text;
}

/** Signs for one thing: micro, product, exponents, quotes for the power of -1. */
function plainSigns(text: string): string {
  return text
    .replace(/[µμ]/g, 'u')
    .replace(/[⋅∙•]/g, '·')
    .replace(/⁻/g, '-')
    .replace(/¹/g, '1')
    .replace(/²/g, '2')
    .replace(/\u2212/g, '-')
    .replace(/\*\*|\^/g, '');
}

/**
 * The usual way to write a unit: `ft/sec`, `FT/S`, `feet per second` and `ft s-1` become `ft/s`.
 *
 * Capitals are read as small letters only for units of which the capitals stand for nothing else.
 *
 * @param spelling as written in a file
 * @returns the spelling with powers as quotients and factors as symbols; what is not known stays as
 *   it is, so that the result may be no unit
 */
export function plainSpelling(spelling: string): string {
  const [top = '', ...below] = plainSigns(spelling.trim())
    .replace(/\s+per\s+/gi, '/')
    .replace(/(?:\s+|[.·*])(s|sec|h|min)\s*\(?-1\)?$/i, '/$1')
    .replace(/(?:\s+|[.·*])(s|sec)\s*\(?-2\)?$/i, '/$12')
    .split('/')
    .map((part) => part.trim());
  const times = below.map((part) => {
    const square = /^(.+?)2$/.exec(part);
    return square === null ? plainFactor(part) : `${plainFactor(square[1] ?? '')}2`;
  });
  // Metres per second per second.
  const joined = times.length === 2 && times[0] === times[1] ? [`${times[0]}2`] : times;
  return [plainFactor(top), ...joined].join('/');
}
