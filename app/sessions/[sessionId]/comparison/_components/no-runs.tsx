type NoRunsProps = Readonly<{ why: string }>;

/** Says why there is nothing to compare with, and how there would be. */
export function NoRuns({ why }: NoRunsProps) {
  return (
    <section className="panel stack">
      <h2>Nothing to compare</h2>
      <p>
        {why} Runs are named in <code>session.yaml</code>: under <code>simulations</code>,{' '}
        <code>files</code> is a pattern such as <code>simulations/*.csv</code> and <code>like</code>{' '}
        the telemetry source whose columns they share. With them the final step is compared here,
        axis by axis.
      </p>
    </section>
  );
}
