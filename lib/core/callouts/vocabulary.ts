/**
 * Words that tell a report of the moment from everything else that is said with a number and a unit.
 *
 * Common practice, no source: gathered from the plain English of approach loops. A report is taken
 * as certain only where every word of its clause is known to belong to one.
 */

function setOf(words: string): ReadonlySet<string> {
  return new Set(words.trim().split(/\s+/));
}

/** Words a certain report of range may be made of, besides the number, the unit and names. */
export const RANGE_WORDS = setOf(`
  a about and approximately are around at away by closing copy counting crew crossed crossing
  current currently distance docking down exactly flight for from good got gate have holding
  i'm i in indicated indicates inside is it it's its just laser lidar line looking mark nice now of
  off okay ok on opening out passed passes passing port radar range ranging read reading reads
  remaining roger separation show showing shows sitting stable standing station-keeping
  stationkeeping steady still target that's the there this through to under us vehicle we we're
  we've with you you're your backing that nicely says per`);

/** Words of those that count only behind another: `to go`, `the port` (`to port` is sideways). */
export const ONLY_BEHIND: ReadonlyMap<string, string> = new Map([
  ['go', 'to'],
  ['port', 'the'],
]);

/** The same for a rate. */
export const RATE_WORDS = setOf(`
  a about and approach approaching approximately are around at backing away bit by closing closure
  copy current currently exactly fast get getting good got have high holding i i'm in is it it's
  just little looking low nice now of okay ok on opening our out range rate rate's read reading
  reads receding roger separating separation show showing shows speed steady still that's the there
  this to too velocity we we're we've with you you're your that down retreating slowing nicely says per`);

/** In the same sentence: orders, expectations, conditions, the past. */
export const DOUBT_WORDS = setOf(`
  after ago aim ask back before begin between brake call called confirm continue correction could
  disregard earlier either estimate estimated expect expected expecting expects had halt he'd hold
  i'd i'll if it'll keep last let maintain may might move must need negative next once or ought
  perhaps plan planned planning predict predicted prepare probably proceed reach reached recommend
  remember report request retreat return said set shall should simulated stand standby start stay
  stop suppose supposed tell than they'll think till unless until used wait want was wasn't we'd
  we'll were weren't when whenever where while will without would yesterday you'd you'll`);

/** In the same clause: what is denied, and what is a bound. */
export const CLAUSE_DOUBT_WORDS = setOf(`
  allowed aren't can't cannot doesn't don't exceed haven't isn't limit limits maximum minimum neither
  never no nominal nor not nothing required requirement requires rule tolerance unable won't`);

/** In the same clause: the number measures something else. */
export const OTHER_WORDS = setOf(`
  above accuracy across altitude apogee arm beam below body boom box burn cable camera channel cone corridor cross
  crosstrack cycle deadband delta diameter dv drift drifting error field focus hatch height hooks horizontal
  impulse lateral laterally length lens lever long offset orbit page perigee pitch radial radius resolution ring roll short
  side sideways sigma size solar starboard step sun sway tall thick thickness translate translating vertical vertically view wide width
  wind yaw zoom`);

/** Behind a unit: the number names a place or a thing (`the 30 m hold`). */
export const PLACE_WORDS = setOf(`
  ball box boundary call callout check checkpoint circle corridor ellipsoid entry gate hold level limit line mark
  offset poll point radius ring rule sphere standoff station step stop waypoint wide zone`);

/** Places that are passed: `passing the 50 metre mark` is a report. */
export const PASSED_PLACES = setOf('mark line gate point');

/** Behind a name that opens a sentence: `Heron passing 50 metres`. */
export const MOVING_WORDS = setOf('passing crossing passed crossed inside');

/** In front of a passed place: the speaker is there now. */
export const PASSING_WORDS = setOf('passing crossing passed inside through crossed range at');

/** A rate with one of these opens the distance. */
export const OPENING_WORDS = setOf(
  'opening backing receding retreating separating separation away',
);
