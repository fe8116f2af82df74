import { fitText } from '@/lib/view/charts/label-layout';
import type { FeedBar } from '@/lib/view/navigation/feed-bars';
import type { NavigationView } from '@/lib/view/navigation/navigation-view';
import styles from './navigation.module.css';

type FeedStripProps = Readonly<{ strip: NavigationView['strip'] }>;

const WIDTH = 1000;
const ROW = 26;
const FONT_PX = 12;

/** The whole session as one bar: sensors above, what was not used below. The table says the same. */
export function FeedStrip({ strip }: FeedStripProps) {
  const x = (atS: number): number => ((atS - strip.fromS) / (strip.toS - strip.fromS)) * WIDTH;
  const bar = (each: FeedBar, y: number) => (
    <g key={each.id}>
      <rect
        className={styles[each.tone]}
        x={x(each.fromS)}
        y={y}
        width={Math.max(2, x(each.toS) - x(each.fromS))}
        height={ROW - 6}
      >
        <title>{each.detail}</title>
      </rect>
      <text x={x(each.fromS) + 6} y={y + 14}>
        {fitText(each.label, x(each.toS) - x(each.fromS) - 10, FONT_PX)}
      </text>
    </g>
  );
  const hasUnused = strip.unused.length > 0;
  return (
    <svg
      className={styles.strip}
      viewBox={`0 0 ${WIDTH} ${hasUnused ? 2 * ROW : ROW}`}
      aria-hidden="true"
    >
      {strip.bars.map((each) => bar(each, 4))}
      {strip.unused.map((each) => bar(each, ROW + 2))}
    </svg>
  );
}
