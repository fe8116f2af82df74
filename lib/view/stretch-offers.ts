/** Stretches that look flown by hand, as the form of a task offers them. */
import type { ManualStretch } from '../core/reconstruction/handling';
import { formatSessionTime } from './format-time';

/** `fromS` and `toS` as they are typed into the form. */
export type StretchOffer = Readonly<{ key: string; fromS: string; toS: string; text: string }>;

export function stretchOffers(manual: readonly ManualStretch[]): readonly StretchOffer[] {
  return manual.map((stretch) => {
    const [fromS, toS] = [formatSessionTime(stretch.fromS), formatSessionTime(stretch.toS)];
    return {
      key: `${stretch.about} ${fromS}`,
      fromS,
      toS,
      text: `${fromS} to ${toS}: ${stretch.about}`,
    };
  });
}
