'use client';

import { FoldedForm } from '@/app/_components/form/folded-form';
import { requireRolesAction } from '../actions';
import styles from './published.module.css';

const KEPT = 'Kept. It holds for what is published from now on.';

/** Roles without whose approval nothing is published. */
export function RolesForm({ roles }: Readonly<{ roles: readonly string[] }>) {
  const seen = roles.join('\n');
  return (
    <FoldedForm
      summary={
        <>
          Which approvals are required
          <span className="soft">: {roles.length === 0 ? 'none' : roles.join(', ')}</span>
        </>
      }
      className={`panel no-print ${styles.more}`}
      submit="Keep the roles"
      busy={'Keeping\u2026'}
      taken={KEPT}
      send={(form) => requireRolesAction(String(form.get('roles') ?? ''), seen)}
    >
      <label>
        <span>Roles that must approve a debrief before it is published, one a line</span>
        <textarea name="roles" rows={4} defaultValue={seen} maxLength={2000} />
      </label>
      <p className="soft">
        Empty: no approval is required, and any role may still give one. There are no accounts yet:
        whoever approves states role and name, and the record says so.
      </p>
    </FoldedForm>
  );
}
