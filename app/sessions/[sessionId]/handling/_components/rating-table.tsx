import type { TaskCard } from '@/lib/view/task-card';
import styles from './handling.module.css';

type RatingTableProps = Readonly<{ task: TaskCard }>;

/** Ratings as given, each by itself; where several rated, how far they lie apart. */
export function RatingTable({ task }: RatingTableProps) {
  if (task.ratings.length === 0) return <p className="soft">Nobody has rated this task.</p>;
  return (
    <>
      <table className="data">
        <thead>
          <tr>
            <th scope="col">scale</th>
            <th scope="col" className="right">
              rating
            </th>
            <th scope="col">which says</th>
            <th scope="col">rater</th>
            <th scope="col">remark</th>
          </tr>
        </thead>
        <tbody>
          {task.ratings.map((rating) => (
            <tr key={rating.key}>
              <th scope="row">{rating.scale}</th>
              <td className="right num">{rating.rating}</td>
              <td>
                {rating.anchor}
                {rating.trouble !== null && (
                  <span className={styles.trouble}>{rating.trouble}</span>
                )}
              </td>
              <td>{rating.rater}</td>
              <td>{rating.remark}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {task.spread.length > 0 && (
        <p className="soft">Spread over raters: {task.spread.join('; ')}.</p>
      )}
    </>
  );
}
