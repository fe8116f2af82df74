/** How keys and pointer reach the player, which is loaded later and only where there is a recording. */
export type PlayerLink = Readonly<{
  toggle: () => void;
  isPlaying: () => boolean;
  /** Called by the player while it is there; null when it goes. */
  join: (player: Readonly<{ toggle: () => void; isPlaying: () => boolean }> | null) => void;
}>;

/** @param none what a key says where no recording can be played */
export function makePlayerLink(none: () => void): PlayerLink {
  let player: Parameters<PlayerLink['join']>[0] = null;
  return {
    toggle: () => (player === null ? none() : player.toggle()),
    isPlaying: () => player?.isPlaying() ?? false,
    join: (joining) => {
      player = joining;
    },
  };
}
