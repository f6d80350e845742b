// Draws the weight chart. Fetched with the plotting only where a chart is shown.

import uPlot from 'uplot';
import 'uplot/dist/uPlot.min.css';
import type { Weights } from './lib/animal';
import { kMarks, type Columns } from './lib/weight_chart';
import { token } from './look_watch';

export interface PlotWords {
  mass: (value_g: number) => string;
  day: (at: Date) => string;
}

const kHeight = 260;

/** A plot in `frame` that tells over which row the finger is. */
export function weight_plot(
  frame: HTMLElement, columns: Columns, events: Weights['events'], words: PlotWords, over: (row: number | null) => void,
): uPlot {
  performance.mark('weight-plot');
  const [ink, soft, warm, cool, line, card] = ['ink', 'soft', 'warm', 'cool', 'line', 'card'].map(token) as [string, string, string, string, string, string];
  const axis = { stroke: soft, grid: { stroke: line, width: 1 }, ticks: { stroke: line }, font: '13px system-ui, sans-serif' };
  return new uPlot(
    {
      width: frame.clientWidth,
      height: kHeight,
      legend: { show: false },
      cursor: { drag: { x: false, y: false }, points: { show: false } },
      scales: { x: { time: true }, y: { range: (_plot, low, high) => padded(low, high) } },
      axes: [
        { ...axis, space: 70, values: (_plot, at) => at.map((one) => words.day(new Date(one * 1000)).replace(/^\w+ /, '')) },
        { ...axis, size: 66, values: (_plot, masses) => masses.map((one) => words.mass(one)) },
      ],
      series: [
        {},
        { stroke: cool, width: 1, dash: [4, 4], spanGaps: true, points: { show: false } },
        { stroke: cool, width: 1, dash: [4, 4], spanGaps: true, points: { show: false } },
        { stroke: cool, width: 2, spanGaps: true, points: { show: false } },
        { stroke: warm, paths: () => null, points: { show: true, size: 9, fill: warm } },
        { stroke: ink, paths: () => null, points: { show: true, size: 9, fill: card, width: 2 } },
      ],
      bands: [{ series: [2, 1], fill: `color-mix(in srgb, ${cool} 18%, transparent)` }],
      hooks: {
        setCursor: [(shown) => over(shown.cursor.idx ?? null)],
        draw: [
          (shown) => {
            draw_marks(shown, events, ink);
            performance.measure('weight-plot', 'weight-plot');
          },
        ],
      },
    },
    [columns.at, columns.low, columns.high, columns.middle, columns.used, columns.unused],
    frame,
  );
}

/** Room above the highest and below the lowest value, for the letters at the foot. */
function padded(low: number | null, high: number | null): [number, number] {
  if (low === null || high === null) return [0, 1];
  const edge = Math.max((high - low) * 0.12, high * 0.01);
  return [Math.max(0, low - 1.8 * edge), high + edge];
}

function draw_marks(plot: uPlot, events: Weights['events'], ink: string): void {
  const { ctx, bbox } = plot;
  ctx.save();
  ctx.font = `bold ${13 * devicePixelRatio}px system-ui, sans-serif`;
  ctx.fillStyle = ink;
  ctx.textAlign = 'center';
  let free_from = bbox.left;
  for (const event of events) {
    const x = plot.valToPos(Date.parse(event.at) / 1000, 'x', true);
    // Where letters would stand on each other the later ones are left to the table of events.
    if (x < free_from || x > bbox.left + bbox.width) continue;
    ctx.fillText(kMarks[event.kind] ?? '', x, bbox.top + bbox.height - 5 * devicePixelRatio);
    free_from = x + 11 * devicePixelRatio;
  }
  ctx.restore();
}
