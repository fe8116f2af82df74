import Link from 'next/link';
import type { FilterLink, FindingsView } from '@/lib/view/findings-view';
import styles from './filter-bar.module.css';

type FilterBarProps = Readonly<{ view: FindingsView }>;

/** Filters kept in the address, so that a filtered list can be sent to somebody else. */
export function FilterBar({ view }: FilterBarProps) {
  return (
    <div className={`${styles.bar} no-print`}>
      <FilterLinks label="Kind" links={view.kinds} />
      <FilterLinks label="Severity" links={view.severities} />
    </div>
  );
}

type FilterLinksProps = Readonly<{ label: string; links: readonly FilterLink[] }>;

function FilterLinks({ label, links }: FilterLinksProps) {
  return (
    <nav className={styles.filter} aria-label={`${label} shown`}>
      <span className={styles.label}>{label}</span>
      {links.map((link) => (
        <Link
          key={link.label}
          className={styles.link}
          href={link.href}
          prefetch={false}
          aria-current={link.isChosen ? 'true' : undefined}
        >
          {link.label}
        </Link>
      ))}
    </nav>
  );
}
