import Link from 'next/link';
import { FigureValue } from '@/app/_components/figure/figure-value';
import type { NavigationView } from '@/lib/view/navigation/navigation-view';
import { FeedStrip } from './feed-strip';

type FeedPanelProps = Readonly<{ view: Pick<NavigationView, 'strip' | 'feeds' | 'selectorNote'> }>;

/** Which sensor fed the solution when: as a strip, and as a table. */
export function FeedPanel({ view }: FeedPanelProps) {
  return (
    <section className="panel">
      <h2>What fed the solution</h2>
      <FeedStrip strip={view.strip} />
      <table className="data">
        <thead>
          <tr>
            <th scope="col">fed by</th>
            <th scope="col">how</th>
            <th scope="col" className="right">
              from
            </th>
            <th scope="col" className="right">
              for
            </th>
          </tr>
        </thead>
        <tbody>
          {view.feeds.map((feed) => (
            <tr key={feed.key}>
              <th scope="row">
                <Link href={feed.href} prefetch={false}>
                  {feed.name}
                </Link>
              </th>
              <td>{feed.kind}</td>
              <td className="right">
                <FigureValue figure={feed.start} />
              </td>
              <td className="right">
                <FigureValue figure={feed.length} />
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <p className="panel-note">
        {view.selectorNote}
        {view.strip.bars.some(({ tone }) => tone === 'carried') &&
          ' Orange: not fed by an accepted measurement.'}
        {view.strip.unused.length > 0 && ' Dashed, below: rows missing or not used.'}
      </p>
    </section>
  );
}
