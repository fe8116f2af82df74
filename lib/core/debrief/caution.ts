/** What every debrief says of itself. */
export const CAUTION =
  'This document serves review after the flight. It must not be used for real-time decisions, to clear a vehicle or crew, or in place of the operator\u2019s own flight rules, certified tools and responsible authority.';

/** Stands over everything made from the invented demo. */
export const INVENTED_BANNER =
  'Invented demonstration: no part of this flight took place, and no number in it is about a real vehicle.';
