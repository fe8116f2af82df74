import type { Metadata } from 'next';
import { loadRegister } from '@/lib/server/queries/load-register';
import { entryRows } from '@/lib/view/plans/register-view';
import { HomeHeader } from '../_components/shell/home-header';
import { EntryTable } from './_components/entry-table';

export const metadata: Metadata = { title: 'Plans and rules' };

export default async function PlansPage() {
  const [rules, plans, templates] = await Promise.all([
    loadRegister('rules'),
    loadRegister('plan'),
    loadRegister('template'),
  ]);
  return (
    <>
      <HomeHeader />
      <main className="page" id="main" tabIndex={-1}>
        <div className="page-head">
          <h1>Plans and rules</h1>
          <p>
            Immutable versions. A session keeps the version it was reconstructed with until somebody
            puts another in use; a debrief keeps the template it was drafted by.
          </p>
        </div>
        <EntryTable kind="rules" title="Rule sets" rows={entryRows(rules)} />
        <EntryTable kind="plan" title="Plans" rows={entryRows(plans)} />
        <EntryTable kind="template" title="Templates of debriefs" rows={entryRows(templates)} />
      </main>
    </>
  );
}
