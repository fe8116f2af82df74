/** Says that there is nothing to compare with, and how there would be. */
export function NoRuns() {
  return (
    <section className="panel stack">
      <h2>Nothing to compare</h2>
      <p>
        Nothing is compared: this session names no simulator runs, none of them could be read, it
        has no plan that ends in a move, or that last step was not flown. Runs are named in{' '}
        <code>session.yaml</code>: under <code>simulations</code>, <code>files</code> is a pattern
        such as <code>simulations/*.csv</code> and <code>like</code> the telemetry source whose
        columns they share. With them the final step is compared here, axis by axis.
      </p>
    </section>
  );
}
