/** Said where nothing can be drawn. */
export function NoApproach() {
  return (
    <div className="page">
      <div className="page-head">
        <h1>Approach</h1>
        <p>
          No source of this session gives a range or a position, so no motion was estimated and
          there is nothing to draw.
        </p>
      </div>
    </div>
  );
}
