/** The cursor is where the keys of the timeline act: focus comes to it and back to it. */

export function focusCursor(): void {
  document.getElementById('timeline-cursor')?.focus({ preventScroll: true });
}

/**
 * On arrival the keys act at once, without a way of thirty stops to the strips. Focus that somebody has
 * already put into a field or on a button of the page stays where it is.
 */
export function focusCursorOnArrival(): void {
  const focused = document.activeElement;
  if (focused === null || focused === document.body || focused.closest('header') !== null)
    focusCursor();
}
