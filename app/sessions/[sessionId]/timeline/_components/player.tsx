'use client';

import { useRef, useState } from 'react';
import { createPortal } from 'react-dom';
import type { LogMark } from '@/lib/view/log-mark';
import { PLAY_SPEEDS } from '@/lib/view/recordings/played-recordings';
import styles from './player.module.css';
import type { PlayerParts } from './player-hand';
import { PlayerPicture } from './player-picture';
import { usePlayer } from './use-player';
import { useSaidMark } from './use-said-mark';

type PlayerProps = PlayerParts &
  Readonly<{
    log: readonly LogMark[];
    /** Where the picture stands, beside the strips; null until the page is drawn. */
    side: HTMLElement | null;
  }>;

/** Plays a recording in step with the cursor: the cursor is its hand, and moving the cursor winds it. */
export function Player(props: PlayerProps) {
  const { recordings, log, cursor, window, side } = props;
  const media = useRef<HTMLVideoElement>(null);
  const place = useRef<HTMLSpanElement>(null);
  const player = usePlayer(props, media, place);
  const [picture, setPicture] = useState<'shown' | 'hidden'>('shown');
  useSaidMark({ log, cursor, window });
  const { recording, state, speed } = player;
  return (
    <section className={styles.player} aria-label="Sound and picture">
      <button
        type="button"
        className={styles.play}
        onClick={player.toggle}
        aria-label={player.isOn ? 'Pause' : 'Play'}
        aria-keyshortcuts="k"
        title={player.isOn ? 'Pause (k)' : 'Play from the cursor (k)'}
      >
        <span aria-hidden="true">{player.isOn ? '❚❚' : '▶'}</span> {player.isOn ? 'Pause' : 'Play'}
      </button>
      {recordings.length > 1 ? (
        <select
          aria-label="Recording"
          value={recording.id}
          onChange={(event) => player.choose(event.target.value)}
        >
          {recordings.map(({ id, name }) => (
            <option key={id} value={id}>
              {name}
            </option>
          ))}
        </select>
      ) : (
        <span className={styles.name}>{recording.name}</span>
      )}
      <span ref={place} className={styles.place} />
      <fieldset className={styles.speeds} aria-label="Speed">
        {PLAY_SPEEDS.map((each) => (
          <button
            key={each}
            type="button"
            aria-pressed={each === speed}
            aria-label={`${each} times as fast`}
            onClick={() => player.setSpeed(each)}
          >
            {each}×
          </button>
        ))}
      </fieldset>
      {player.hasPicture && (
        <button
          type="button"
          aria-pressed={picture === 'shown'}
          onClick={() => setPicture(picture === 'shown' ? 'hidden' : 'shown')}
        >
          Picture
        </button>
      )}
      <span
        className={styles.message}
        data-state={state}
        role={state === 'failed' ? 'alert' : 'status'}
      >
        {player.message}
        {state === 'failed' && (
          <button type="button" onClick={player.retry}>
            Try again
          </button>
        )}
        {player.startS !== null && (
          <button type="button" onClick={player.goToStart}>
            Go to its start
          </button>
        )}
      </span>
      {side !== null &&
        createPortal(
          <PlayerPicture
            media={media}
            recording={recording}
            shown={player.hasPicture && picture === 'shown'}
            events={player.events}
          />,
          side,
        )}
    </section>
  );
}
