'use client';

import { type RefObject, useEffect, useRef } from 'react';
import styles from './timeline.module.css';

type LaneTipProps = Readonly<{ strips: RefObject<HTMLElement | null> }>;

const BESIDE_PX = 14;
const WIDTH_PX = 340;

/** The whole text of the mark under the pointer; the same text stands in the list below. */
export function LaneTip({ strips }: LaneTipProps) {
  const tip = useRef<HTMLDivElement>(null);
  useEffect(() => {
    const area = strips.current;
    if (area === null) return;
    const move = (event: PointerEvent): void => {
      if (tip.current === null) return;
      const target = event.target instanceof Element ? event.target.closest('[data-detail]') : null;
      const text = event.buttons === 0 ? (target?.getAttribute('data-detail') ?? '') : '';
      if (tip.current.hidden !== (text === '')) tip.current.hidden = text === '';
      if (text === '') return;
      if (tip.current.textContent !== text) tip.current.textContent = text;
      const box = area.getBoundingClientRect();
      const x = event.clientX - box.left + BESIDE_PX;
      tip.current.style.left = `${Math.max(0, Math.min(x, box.width - WIDTH_PX))}px`;
      tip.current.style.top = `${event.clientY - box.top + BESIDE_PX}px`;
    };
    const leave = (): void => {
      if (tip.current !== null) tip.current.hidden = true;
    };
    area.addEventListener('pointermove', move);
    area.addEventListener('pointerleave', leave);
    return () => {
      area.removeEventListener('pointermove', move);
      area.removeEventListener('pointerleave', leave);
    };
  }, [strips]);
  return <div ref={tip} className={styles.tip} hidden aria-hidden="true" />;
}
