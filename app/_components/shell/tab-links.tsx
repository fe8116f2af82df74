'use client';

import Link, { useLinkStatus } from 'next/link';
import { usePathname } from 'next/navigation';
import styles from './tab-links.module.css';

export type TabLink = Readonly<{ href: string; label: string }>;

type TabLinksProps = Readonly<{
  label: string;
  tabs: readonly TabLink[];
}>;

/**
 * Links between sibling pages; the one that is open is marked by weight, line and `aria-current`.
 *
 * Nothing is fetched before it is asked for: every page is made on request, so that fetching ahead brought an
 * empty frame of each, and some thirty requests stood before what the open page itself reads.
 */
export function TabLinks({ label, tabs }: TabLinksProps) {
  const pathname = usePathname();
  // A page above the others is open at its own address only, not at one that has no tab.
  const isAbove = (href: string) => tabs.some((other) => other.href.startsWith(`${href}/`));
  const open = tabs
    .filter(({ href }) => pathname === href || (pathname.startsWith(`${href}/`) && !isAbove(href)))
    .reduce((longest, { href }) => (href.length > longest.length ? href : longest), '');
  return (
    <nav className={styles.tabs} aria-label={label}>
      {tabs.map((tab) => (
        <Link
          key={tab.href}
          className={styles.tab}
          href={tab.href}
          prefetch={false}
          aria-current={tab.href === open ? 'page' : undefined}
        >
          {tab.label}
          <Pending />
        </Link>
      ))}
    </nav>
  );
}

/** Says that the page behind a tab is being read, once that takes long enough to notice. */
function Pending() {
  const { pending } = useLinkStatus();
  return pending ? (
    <span className={styles.pending} role="status">
      <span className="visually-hidden">, reading</span>
    </span>
  ) : null;
}
