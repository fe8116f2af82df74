import type { ReactNode } from 'react';
import { FigureValue } from '@/app/_components/figure/figure-value';
import type { ClockFacts as Facts } from '@/lib/view/clock/clock-facts';
import styles from './clock.module.css';

type ClockFactsProps = Readonly<{ file: string; facts: Facts }>;

/** How the clock came about and how well it is known. */
export function ClockFacts({ file, facts }: ClockFactsProps) {
  return (
    <section className="panel">
      <h2>
        Clock of <code>{file}</code>
      </h2>
      <p className={styles.lead}>{facts.origin}</p>
      <dl className={styles.facts}>
        <Fact term="offset">
          <FigureValue figure={facts.offset} />
        </Fact>
        <Fact term="drift">
          <FigureValue figure={facts.drift} />
        </Fact>
        {facts.rangeBias !== null && (
          <Fact term="range bias, said minus measured">
            <FigureValue figure={facts.rangeBias} />
          </Fact>
        )}
        <Fact term="residual before">
          <span className="num">{facts.residualBefore}</span>
        </Fact>
        <Fact term="residual after">
          <span className="num">{facts.residualAfter}</span>
        </Fact>
        <Fact term="tie points and spoken values">{facts.counts}</Fact>
        {facts.sentences.map(({ term, text }) => (
          <div key={term} className={styles.wide}>
            <dt>{term}</dt>
            <dd>{text}</dd>
          </div>
        ))}
      </dl>
    </section>
  );
}

function Fact({ term, children }: Readonly<{ term: string; children: ReactNode }>) {
  return (
    <div>
      <dt>{term}</dt>
      <dd>{children}</dd>
    </div>
  );
}
