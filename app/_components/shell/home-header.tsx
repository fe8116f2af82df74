import { SiteHeader } from './site-header';
import { TabLinks } from './tab-links';

const LINKS = [
  { href: '/', label: 'Sessions' },
  { href: '/import', label: 'Import' },
  { href: '/plans', label: 'Plans and rules' },
  { href: '/published', label: 'Published' },
];

/** The head of pages that stand outside a session. */
export function HomeHeader() {
  return (
    <SiteHeader>
      <TabLinks label="Wakeline" tabs={LINKS} />
    </SiteHeader>
  );
}
