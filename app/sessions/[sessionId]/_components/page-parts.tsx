import styles from './page-parts.module.css';

type PagePartsProps = Readonly<{ parts: readonly Readonly<{ id: string; name: string }>[] }>;

/** Ways to the parts of a long page, in its head. */
export function PageParts({ parts }: PagePartsProps) {
  return (
    <nav className="no-print" aria-label="Parts of this page">
      <ul className={`plain ${styles.parts}`}>
        {parts.map(({ id, name }) => (
          <li key={id}>
            <a href={`#${id}`}>{name}</a>
          </li>
        ))}
      </ul>
    </nav>
  );
}
