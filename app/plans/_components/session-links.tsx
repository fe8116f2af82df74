import Link from 'next/link';
import type { Link as NamedLink } from '@/lib/view/plans/register-view';
import styles from './plans.module.css';

type SessionLinksProps = Readonly<{ links: readonly NamedLink[]; more: number }>;

/** Sessions by name, and how many are not named. */
export function SessionLinks({ links, more }: SessionLinksProps) {
  if (links.length === 0) return null;
  return (
    <ul className={`plain ${styles.links}`}>
      {links.map(({ key, href, text }) => (
        <li key={key}>
          <Link href={href} prefetch={false}>
            {text}
          </Link>
        </li>
      ))}
      {more > 0 && <li className="soft">and {more} more</li>}
    </ul>
  );
}
