/** In what ways a rate comes out of a hold or into it. */
import { rampWayFromMiddleM } from '../motion/excursion-shape';

/** A change of the rate, as seen from the hold: `lastsS` long, about an instant of it; its sizes are without sign, m/s. */
export type EdgeKind = Readonly<{
  /** Way of a change to 1 m/s at a time after its instant, away from the hold, m. */
  wayM: (lastsS: number, afterS: number) => number;
  /** Where the rate passes a share of the size, s after the instant, and how that goes up with the logarithm of the share. */
  passes: (lastsS: number, share: number) => Readonly<{ afterS: number; perShareS: number }>;
  /** How fast the rate changes where it passes the hold rate, m/s2. */
  accelerationMps2: (lastsS: number, sizeMps: number, holdRateMps: number) => number;
  /** Lengths that are tried, s. */
  lengthsS: (reachS: number) => readonly [shortS: number, longS: number];
  /** Logarithm of how likely it is before looking, per logarithm of its length, but for what all kinds share. */
  logPrior: (lastsS: number, sizeMps: number, planMps2: number) => number;
}>;

/** How far the acceleration may be from the plan's: the standard deviation of its logarithm. Our own choice. */
const LOG_ACCELERATION_SD = 0.5;

function logDensity(off: number): number {
  return -(off * off) / 2 - Math.log(LOG_ACCELERATION_SD * Math.sqrt(2 * Math.PI));
}

/** Along a straight line at about the plan's acceleration; its instant is its middle. */
export const RAMP: EdgeKind = {
  wayM: rampWayFromMiddleM,
  passes: (lastsS, share) => ({ afterS: (share - 0.5) * lastsS, perShareS: share * lastsS }),
  accelerationMps2: (lastsS, sizeMps) => sizeMps / lastsS,
  lengthsS: (reachS) => [1, 4 * reachS],
  logPrior: (lastsS, sizeMps, planMps2) =>
    logDensity(Math.log(sizeMps / lastsS / planMps2) / LOG_ACCELERATION_SD),
};

/** A rate in proportion to what is left to go decays over one of these times, each alike by its logarithm; our own choice. */
const DECAYS_S = [4, 80] as const;
/** A hold is so reached in so many cases; our own choice. */
const DECAY_SHARE = 0.2;

/** Or along a straight line first, as steep as the decay that follows, which begins at this share of the size; our own choice. */
const BENT_SHARE = 0.4;

/**
 * A rate in proportion to the distance left, so that it decays towards the hold, from a share of its size on; along a straight line
 * before, at no more than about the plan's acceleration. Its instant is where the decay begins.
 */
function decayFrom(ofSize: number): EdgeKind {
  return {
    wayM: (lastsS, afterS) => {
      if (afterS < 0) return ofSize * lastsS * Math.exp(afterS / lastsS);
      const lineS = (lastsS * (1 - ofSize)) / ofSize;
      const inS = Math.min(afterS, lineS);
      const lineM = ofSize * (inS + (inS * inS) / (2 * lastsS));
      return ofSize * lastsS + lineM + (afterS - inS);
    },
    passes: (lastsS, share) =>
      share < ofSize
        ? { afterS: lastsS * Math.log(share / ofSize), perShareS: lastsS }
        : { afterS: lastsS * (share / ofSize - 1), perShareS: (lastsS * share) / ofSize },
    accelerationMps2: (lastsS, sizeMps, holdRateMps) =>
      Math.min(holdRateMps, ofSize * sizeMps) / lastsS,
    lengthsS: () => DECAYS_S,
    logPrior: (lastsS, sizeMps, planMps2) => {
      const steepMps2 = (ofSize * sizeMps) / lastsS;
      const over = Math.max(0, Math.log(steepMps2 / planMps2) / LOG_ACCELERATION_SD);
      const share = DECAY_SHARE / 2 / (1 - DECAY_SHARE);
      return Math.log(share / Math.log(DECAYS_S[1] / DECAYS_S[0])) - (over * over) / 2;
    },
  };
}

/** The ways into a hold that are no straight line, each as likely as the other. */
export const DECAYS: readonly EdgeKind[] = [decayFrom(1), decayFrom(BENT_SHARE)];
