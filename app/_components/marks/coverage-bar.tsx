import styles from './marks.module.css';

type Stretch = Readonly<{ from: number; to: number }>;
type CoverageBarProps = Readonly<{ covered: Stretch; gaps: readonly Stretch[] }>;

/** The part of the session that a source covers, its gaps cut out. */
export function CoverageBar({ covered, gaps }: CoverageBarProps) {
  const width = ({ from, to }: Stretch) => Math.max(1.5, (to - from) * 1000);
  return (
    <svg className={styles.bar} viewBox="0 0 1000 16" preserveAspectRatio="none" aria-hidden="true">
      <rect className={styles.track} x="0" y="7" width="1000" height="2" />
      <rect
        className={styles.covered}
        x={covered.from * 1000}
        y="5"
        width={width(covered)}
        height="6"
      />
      {gaps.map((gap) => (
        <rect
          key={gap.from}
          className={styles.cut}
          x={gap.from * 1000}
          y="2"
          width={width(gap)}
          height="12"
        />
      ))}
    </svg>
  );
}
