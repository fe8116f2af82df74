import type { Picture } from '@/lib/view/approach/picture';
import styles from './approach.module.css';

type PictureSceneProps = Readonly<{ picture: Picture }>;

/** All of a picture that does not move with the moment. */
export function PictureScene({ picture }: PictureSceneProps) {
  const { plot } = picture;
  const width = plot.right - plot.left;
  const height = plot.bottom - plot.top;
  return (
    <>
      <clipPath id={`plot-${picture.id}`}>
        <rect x={plot.left} y={plot.top} width={width} height={height} />
      </clipPath>
      <rect className={styles.sheet} x={plot.left} y={plot.top} width={width} height={height} />
      <Ticks picture={picture} />
      <g clipPath={`url(#plot-${picture.id})`}>
        {picture.areas.map((path) => (
          <path key={path} className={styles.area} d={path} />
        ))}
        {picture.lines.map((line) => (
          <path key={`${line.tone}-${line.path}`} className={styles[line.tone]} d={line.path} />
        ))}
      </g>
      {picture.marks.map((mark) =>
        mark.leader === null ? null : (
          <path key={`leader-${mark.leader}`} className={styles.leader} d={mark.leader} />
        ),
      )}
      {picture.marks.map((mark) =>
        mark.tone === 'least' ? (
          <path
            key={`mark-${mark.tone}-${mark.x}`}
            className={styles.least}
            d={`M${mark.x} ${mark.y - 6}l6 6l-6 6l-6 -6Z`}
          />
        ) : (
          <circle
            key={`mark-${mark.tone}-${mark.x}`}
            className={styles[mark.tone]}
            cx={mark.x}
            cy={mark.y}
            r="4"
          />
        ),
      )}
      {picture.texts.map((text) => (
        <text
          key={`${text.text}-${text.x}`}
          className={`${styles.words} ${styles[`${text.tone}Words`]}`}
          x={text.x}
          y={text.y}
          textAnchor={text.anchor}
        >
          {text.text}
        </text>
      ))}
    </>
  );
}

function Ticks({ picture }: PictureSceneProps) {
  const { plot } = picture;
  return (
    <>
      {picture.xTicks.map((tick) => (
        <g key={tick.text}>
          <path className={styles.grid} d={`M${tick.at} ${plot.top}V${plot.bottom}`} />
          <text className={styles.tick} x={tick.at} y={plot.bottom + 17} textAnchor="middle">
            {tick.text}
          </text>
        </g>
      ))}
      {picture.yTicks.map((tick) => (
        <g key={tick.text}>
          <path className={styles.grid} d={`M${plot.left} ${tick.at}H${plot.right}`} />
          <text className={styles.tick} x={plot.left - 7} y={tick.at + 4} textAnchor="end">
            {tick.text}
          </text>
        </g>
      ))}
      <text className={styles.unit} x={plot.right} y={picture.height - 4} textAnchor="end">
        {picture.xName}
      </text>
      <text className={styles.unit} x={Math.max(0, plot.left - 46)} y={picture.height - 4}>
        {picture.yName}
      </text>
    </>
  );
}
