'use client';

import { FoldedForm } from '@/app/_components/form/folded-form';
import { setSchemeAction } from '../actions';
import styles from './published.module.css';

const KEPT = 'Kept. It holds for what is published from now on.';

/** What the next debriefs are called. */
export function SchemeForm({ scheme }: Readonly<{ scheme: string }>) {
  return (
    <FoldedForm
      summary="How debriefs are numbered"
      className={`panel no-print ${styles.more}`}
      submit="Keep the scheme"
      busy={'Keeping\u2026'}
      taken={KEPT}
      send={(form) => setSchemeAction(String(form.get('scheme') ?? ''), scheme)}
    >
      <label>
        <span>
          Scheme, with <code>{'{number}'}</code>, <code>{'{number:3}'}</code> for three digits,{' '}
          <code>{'{year}'}</code>
        </span>
        <input type="text" name="scheme" defaultValue={scheme} maxLength={60} />
      </label>
    </FoldedForm>
  );
}
