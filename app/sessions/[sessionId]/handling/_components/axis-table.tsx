import { FigureValue } from '@/app/_components/figure/figure-value';
import { SentenceLine } from '@/app/_components/figure/sentence-line';
import type { AxisRow } from '@/lib/view/axis-rows';
import type { Sentence } from '@/lib/view/sentence';
import { FindingNote } from '../../_components/finding-note';
import styles from './handling.module.css';

type AxisTableProps = Readonly<{ axes: readonly AxisRow[]; vehicle: Sentence | null }>;

/** Axis by axis: how far the vehicle moved about its mean in the final step, flown and simulated. */
export function AxisTable({ axes, vehicle }: AxisTableProps) {
  if (axes.length === 0) return null;
  return (
    <section className="panel">
      <h2>Axis by axis, final step</h2>
      <table className="data">
        <thead>
          <tr>
            <th scope="col">axis</th>
            <th scope="col" className="right">
              deviation flown
            </th>
            <th scope="col" className="right">
              median run
            </th>
            <th scope="col" className={styles.scaleHead}>
              <span className={styles.ends}>
                <span>a quarter</span>
                <span>as the median run</span>
                <span>four times</span>
              </span>
            </th>
            <th scope="col" className="right">
              ratio
            </th>
            <th scope="col">standing</th>
          </tr>
        </thead>
        <tbody>
          {axes.map((axis) => (
            <tr key={axis.key}>
              <th scope="row">{axis.label}</th>
              <td className="right">
                <FigureValue figure={axis.flight} />
              </td>
              <td className="right">
                <FigureValue figure={axis.simulator} />
              </td>
              <td>{axis.isKnown && <RatioBar axis={axis} />}</td>
              <td className="right">
                <FigureValue figure={axis.ratio} />
              </td>
              <td className={axis.isLoose ? 'beyond' : axis.isBeyond ? undefined : 'soft'}>
                {axis.verdict}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <p className="panel-note">
        Standard deviations over the time of the final step. “By far”: beyond all of at least twenty
        runs, and so far beyond the farthest of them, counted from their median, as seldom happens
        by chance (42 % of its way with 60 runs, 94 % with 20, 20 % from 127 on); a few of 100 usual
        flights have such an axis.
      </p>
      {vehicle !== null && (
        <p className="panel-note">
          <SentenceLine sentence={vehicle} />
        </p>
      )}
      <div className={`stack ${styles.findings}`}>
        {axes.map(({ key, finding, label }) =>
          finding === null ? null : <FindingNote key={key} place={finding} about={label} />,
        )}
      </div>
    </section>
  );
}

const WIDTH = 200;

function RatioBar({ axis }: Readonly<{ axis: AxisRow }>) {
  return (
    <svg
      className={styles.ratio}
      viewBox={`0 0 ${WIDTH} 16`}
      preserveAspectRatio="none"
      aria-hidden="true"
    >
      <path className={styles.track} d={`M0 8H${WIDTH}`} />
      <path className={styles.even} d={`M${WIDTH / 2} 1V15`} />
      <path className={styles.whisker} d={`M${axis.from * WIDTH} 8H${axis.to * WIDTH}`} />
      <rect
        className={axis.isLoose ? styles.loose : styles.usual}
        x={axis.at * WIDTH - 2.5}
        y="3"
        width="5"
        height="10"
      />
    </svg>
  );
}
