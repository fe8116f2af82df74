'use client';

import { useEffect, useState } from 'react';
import { type ChartColours, chartColours } from '@/lib/view/charts/chart-colours';

function readColours(): ChartColours {
  const style = getComputedStyle(document.documentElement);
  return chartColours((name) => style.getPropertyValue(name));
}

/** The look's colours as they are now: again once all styles are there, when the theme changes, round a print. */
export function useChartColours(): ChartColours | null {
  const [colours, setColours] = useState<ChartColours | null>(null);
  useEffect(() => {
    const again = (): void => setColours(readColours());
    const watched = [
      window.matchMedia('(prefers-color-scheme: dark)'),
      window.matchMedia('print'),
      window.matchMedia('(prefers-contrast: more)'),
    ];
    for (const media of watched) media.addEventListener('change', again);
    again();
    window.addEventListener('load', again);
    return () => {
      window.removeEventListener('load', again);
      for (const media of watched) media.removeEventListener('change', again);
    };
  }, []);
  return colours;
}
