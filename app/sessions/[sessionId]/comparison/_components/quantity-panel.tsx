import Link from 'next/link';
import { FigureValue } from '@/app/_components/figure/figure-value';
import { SentenceLine } from '@/app/_components/figure/sentence-line';
import type { QuantityCard } from '@/lib/view/quantity-card';
import { FindingNote } from '../../_components/finding-note';
import { BandSvg } from './band-svg';
import styles from './comparison.module.css';

type QuantityPanelProps = Readonly<{ card: QuantityCard }>;

/** One quantity: flight over band, where it lies outside, against single columns, and the numbers. */
export function QuantityPanel({ card }: QuantityPanelProps) {
  return (
    <section className="panel stack">
      <h2>
        {card.label} <span className={styles.unit}>{card.unit}</span>
      </h2>
      {card.drawing === null ? (
        <p className="soft">The flight has no value at any of the places.</p>
      ) : (
        <BandSvg
          drawing={card.drawing}
          spoken={card.spoken}
          foot={card.placesText}
          opened={card.opened}
        />
      )}
      <p>
        <SentenceLine sentence={card.outside} />
        {card.stretches.length > 0 && (
          <>
            {' '}
            Flown outside:{' '}
            {card.stretches.map((stretch, index) => (
              <span key={stretch.text}>
                {index > 0 && ', '}
                {stretch.href === null ? (
                  stretch.text
                ) : (
                  <Link href={stretch.href} prefetch={false}>
                    {stretch.text}
                  </Link>
                )}
              </span>
            ))}
            .
          </>
        )}
      </p>
      <PairTable card={card} />
      <NumberTable card={card} />
      {card.finding !== null && <FindingNote place={card.finding} about={card.label} />}
    </section>
  );
}

function PairTable({ card }: QuantityPanelProps) {
  return (
    <div className={styles.wide}>
      <table className="data">
        <thead>
          <tr>
            <th scope="col">flight minus</th>
            <th scope="col" className="right">
              bias
            </th>
            <th scope="col" className="right">
              rms
            </th>
            <th scope="col" className="right">
              peak
            </th>
            <th scope="col" className="right">
              lag
            </th>
            <th scope="col" className="right">
              within tolerance
            </th>
            <th scope="col" className="right">
              Theil’s U
            </th>
            <th scope="col" className="right">
              part from mean, deviation, shape
            </th>
          </tr>
        </thead>
        <tbody>
          {card.pairs.map((pair) => (
            <tr key={pair.key}>
              <th scope="row">{pair.against}</th>
              <td className="right">
                <FigureValue figure={pair.bias} />
              </td>
              <td className="right">
                <FigureValue figure={pair.rms} />
              </td>
              <td className="right">
                <FigureValue figure={pair.peak} /> <span className={styles.at}>{pair.peakAt}</span>
              </td>
              <td className="right">{pair.lag !== null && <FigureValue figure={pair.lag} />}</td>
              <td className="right">
                <FigureValue figure={pair.inside} />
              </td>
              <td className="right">
                <FigureValue figure={pair.theil} />
              </td>
              <td className={`right ${styles.shares}`}>
                {pair.shares.map((share) => (
                  <FigureValue key={share.label} figure={share} />
                ))}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

const NUMBER_COLUMNS = ['place', 'flight', '5th', 'median', '95th', 'runs'] as const;

function NumberTable({ card }: QuantityPanelProps) {
  return (
    <details>
      <summary>The numbers behind the drawing</summary>
      <p className="soft">
        The flight at <FigureValue figure={card.places} /> places, the runs at{' '}
        <FigureValue figure={card.bandPlaces} />: each opens where its columns come from.
      </p>
      <table className="data">
        <thead>
          <tr>
            {NUMBER_COLUMNS.map((name) => (
              <th key={name} scope="col" className="right">
                {name}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {card.rows.map((row) => (
            <tr key={row[0]}>
              {NUMBER_COLUMNS.map((name, column) => (
                <td key={name} className="right num">
                  {row[column]}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  );
}
