import styles from './purpose.module.css';

/** What the program is for, and what it must not be used for. */
export function Purpose() {
  return (
    <div className={styles.purpose}>
      <h1>Sessions</h1>
      <p className={styles.what}>
        Wakeline puts a spacecraft’s approach and docking back together from its files after the
        flight: everything on one clock, phases against plan, rules with their margins, findings,
        and a debrief that stays as published.
      </p>
      <p className={styles.caution}>
        <strong>Review after the flight only.</strong> Not for real-time decisions and not to clear
        a vehicle or crew. The operator’s flight rules, certified tools and responsible authority
        prevail.
      </p>
    </div>
  );
}
