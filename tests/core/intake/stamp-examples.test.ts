import { expect, test } from 'vitest';
import { STAMP_EXAMPLES } from '@/lib/core/intake/stamp-words';
import { parseInstant, parseStamp } from '@/lib/core/time/parse';
import { isElapsedCode, TIME_CODES } from '@/lib/core/time/time-code';

/**
 * 2031-04-17T09:12:30.25Z is 1934183550.25 s after 1970 by Python 3's datetime, day 107 of its year; the
 * counts of days and the GPS week follow from that by hand (40587, 25569, 24107 days; 18 leap seconds).
 */
test.each(TIME_CODES.filter((code) => !isElapsedCode(code)))(
  'the example of %s is one instant',
  (code) => {
    const wanted = parseInstant('2031-04-17T09:12:30.25', 'UTC');
    const scale = code === 'gps-week-seconds' ? 'GPS' : 'UTC';
    const spec = { columns: ['t'], code, scale, from: { taiNs: 0n } } as const;
    for (const example of STAMP_EXAMPLES[code].split(' or ')) {
      const [first = '', second = ''] = example.split(' and ');
      const instant = parseStamp(first, spec, second);
      const apartNs = (instant?.taiNs ?? 0n) - (wanted?.taiNs ?? 0n);
      // Eight decimals of a day are 0.86 ms.
      expect(Math.abs(Number(apartNs))).toBeLessThan(1e6);
    }
  },
);
