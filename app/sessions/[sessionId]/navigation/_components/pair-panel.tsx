import { Fragment } from 'react';
import { FigureValue } from '@/app/_components/figure/figure-value';
import type { FigureView } from '@/lib/view/figure-view';
import type { PairView } from '@/lib/view/navigation/pair-view';
import { PairPicture } from './pair-picture';

type PairPanelProps = Readonly<{ pairs: readonly PairView[] }>;

/** Other ranges against the solution's: bias and scatter, as a whole and by range. */
export function PairPanel({ pairs }: PairPanelProps) {
  return (
    <section className="panel">
      <h2>Ranges against each other</h2>
      {pairs.length === 0 && (
        <p className="soft">
          One range only: nothing stands beside the solution to hold it against, and a bias of it
          would not be seen here.
        </p>
      )}
      {pairs.map((pair) => (
        <Fragment key={pair.key}>
          <h3>{pair.title}</h3>
          <PairPicture picture={pair.picture} />
          <table className="data">
            <caption>
              {pair.counted}. {pair.points}
            </caption>
            <thead>
              <tr>
                <th scope="col">range</th>
                <th scope="col" className="right">
                  bias
                </th>
                <th scope="col" className="right">
                  of it from scatter
                </th>
                <th scope="col" className="right">
                  of it stated
                </th>
                <th scope="col" className="right">
                  scatter, one standard deviation
                </th>
              </tr>
            </thead>
            <tbody>
              <tr>
                <th scope="row">all</th>
                <td className="right">
                  <FigureValue figure={pair.bias} />
                </td>
                <Parts figure={pair.bias} />
                <td className="right">
                  <FigureValue figure={pair.scatter} />
                </td>
              </tr>
              {pair.bands.map((band) => (
                <tr key={band.key}>
                  <td>{band.range}</td>
                  <td className="right">
                    <FigureValue figure={band.bias} />
                  </td>
                  <Parts figure={band.bias} />
                  <td className="right">
                    <FigureValue figure={band.scatter} />
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </Fragment>
      ))}
      {pairs.length > 0 && (
        <p className="panel-note">
          Repeats of a held value count once, and errors that hang together count as fewer. What the
          sources state of their accuracy is the systematic part of the bias; it never shrinks with
          the number of samples.
        </p>
      )}
    </section>
  );
}

/** Both parts of the half-width apart: random, and what the sources state. */
function Parts({ figure }: Readonly<{ figure: FigureView }>) {
  return figure.parts.map(({ label, text }) => (
    <td key={label} className="right num">
      {text}
    </td>
  ));
}
