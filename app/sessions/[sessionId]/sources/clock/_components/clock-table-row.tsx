'use client';

import Link from 'next/link';
import { useId, useRef, useState } from 'react';
import { FigureValue } from '@/app/_components/figure/figure-value';
import type { ClockRow } from '@/lib/view/clock/clock-rows';
import styles from './clock.module.css';
import { JudgeForm, type SourcePlace } from './judge-form';
import { StateWord } from './state-word';

type ClockTableRowProps = Readonly<{ row: ClockRow; place: SourcePlace; columns: number }>;

/** One value; the form that judges it opens in a row of its own, so that the words stay in view. */
export function ClockTableRow({ row, place, columns }: ClockTableRowProps) {
  const [isOpen, setIsOpen] = useState(false);
  const [done, setDone] = useState<string | null>(null);
  const button = useRef<HTMLButtonElement>(null);
  const formId = useId();

  function close(said: string | null): void {
    setIsOpen(false);
    setDone(said);
    button.current?.focus();
  }

  return (
    <>
      <tr>
        <td className="num">{row.sourceTime}</td>
        <td>
          <Link className="num" href={row.href} prefetch={false}>
            {row.sessionTime}
          </Link>
        </td>
        <th scope="row" className={styles.words}>
          {row.words}
        </th>
        <td className="num right">{row.said}</td>
        <td className="right">
          {row.telemetry !== null && <FigureValue figure={row.telemetry} />}
        </td>
        <td className="right">
          {row.difference !== null && <FigureValue figure={row.difference} />}
        </td>
        <td className="num right">{row.residualBefore}</td>
        <td className="num right">{row.residual}</td>
        <td className="num right">{row.sd}</td>
        <td className="num right">{row.weight}</td>
        <td className={styles.state}>
          <StateWord state={row.state} /> <span className="soft">{row.reason}</span>
          <span className={styles.done} role="status">
            {done}
          </span>
        </td>
        <td className="right no-print">
          {row.place !== null && (
            <button
              ref={button}
              className={styles.judge}
              type="button"
              aria-expanded={isOpen}
              aria-controls={formId}
              onClick={() => setIsOpen(!isOpen)}
            >
              Judge<span className="visually-hidden"> “{row.words}”</span>
            </button>
          )}
        </td>
      </tr>
      {isOpen && row.place !== null && (
        <tr id={formId}>
          <td colSpan={columns}>
            <JudgeForm row={row} place={{ ...place, ...row.place }} onClose={close} />
          </td>
        </tr>
      )}
    </>
  );
}
