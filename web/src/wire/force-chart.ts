// The chart of contact force over chainage for one pantograph: what is on it, as a drawing of lines
// for export, and as options for the chart library that shows it on the page.

import type uPlot from 'uplot';
import { linearScale, ticks } from './scale';
import { escaped, sheet_fonts } from '../export/sheet';
import type { PantographFigures, PantographTrace } from './results';

export interface Level {
  value: number;
  words: string;
  dash: number[];
}

export interface ForceChart {
  name: string;
  x_words: string;
  y_words: string;
  from_m: number;
  to_m: number;
  at_m: number[];
  filtered_n: number[];
  /** Contact force without the filter; null where it is not shown. */
  unfiltered_n: number[] | null;
  levels: Level[];
  supports_m: number[];
  droppers_m: number[];
  /** Both ends of each stretch without contact. */
  losses_m: [number, number][];
  /** Common to all pantographs of a run, so that their charts compare by eye. */
  lowest_n: number;
  highest_n: number;
}

export interface ForceWords {
  mean: string;
  statistical_max: string;
  statistical_min: string;
  sigma: string;
}

/** Stretches of the thinned course in which the unfiltered force is none. */
export function lossStretches(trace: PantographTrace): [number, number][] {
  const stretches: [number, number][] = [];
  let open: [number, number] | null = null;
  trace.at_m.forEach((at, i) => {
    if ((trace.contact_force_n[i] ?? 1) <= 0) {
      if (open) {
        open[1] = at;
      } else {
        open = [at, at];
        stretches.push(open);
      }
    } else {
      open = null;
    }
  });
  return stretches;
}

function whole(value: number): string {
  return Math.round(value).toString();
}

/** The lines of one pantograph: mean, one standard deviation to either side, three as the limits. */
export function levelsOf(
  figures: PantographFigures,
  words: ForceWords,
  number: (value: number, decimals?: number) => string,
): Level[] {
  return [
    {
      value: figures.statistical_max_n,
      words: `${words.statistical_max} ${number(figures.statistical_max_n)} N`,
      dash: [6, 3],
    },
    {
      value: figures.mean_n + figures.std_n,
      words: `${words.mean} + ${words.sigma} (${number(figures.std_n, 1)} N)`,
      dash: [1, 3],
    },
    { value: figures.mean_n, words: `${words.mean} ${number(figures.mean_n)} N`, dash: [] },
    { value: figures.mean_n - figures.std_n, words: `${words.mean} − ${words.sigma}`, dash: [1, 3] },
    {
      value: figures.statistical_min_n,
      words: `${words.statistical_min} ${number(figures.statistical_min_n)} N`,
      dash: [6, 3],
    },
  ];
}

/** Room from the least to the greatest value of all courses and lines, with a margin. */
export function commonRange(
  traces: readonly PantographTrace[],
  figures: readonly PantographFigures[],
  with_unfiltered: boolean,
): [number, number] {
  let lowest = 0;
  let highest = 0;
  for (const trace of traces) {
    for (const course of with_unfiltered
      ? [trace.filtered_force_n, trace.contact_force_n]
      : [trace.filtered_force_n]) {
      for (const force of course) {
        lowest = Math.min(lowest, force);
        highest = Math.max(highest, force);
      }
    }
  }
  for (const one of figures) {
    lowest = Math.min(lowest, one.statistical_min_n);
    highest = Math.max(highest, one.statistical_max_n);
  }
  const step = 20;
  return [Math.floor(lowest / step) * step, (Math.floor(highest / step) + 1) * step];
}

/** Heights of labels so that none covers another; the order of the values is kept. */
export function spreadLabels(places: readonly number[], least_gap: number): number[] {
  const order = places.map((_, i) => i).sort((a, b) => (places[a] as number) - (places[b] as number));
  const spread = [...places];
  for (let round = 0; round < 30; ++round) {
    let moved = false;
    for (let k = 1; k < order.length; ++k) {
      const upper = order[k - 1] as number;
      const lower = order[k] as number;
      const lack = least_gap - ((spread[lower] as number) - (spread[upper] as number));
      if (lack > 0.01) {
        spread[upper] = (spread[upper] as number) - lack / 2;
        spread[lower] = (spread[lower] as number) + lack / 2;
        moved = true;
      }
    }
    if (!moved) {
      break;
    }
  }
  return spread;
}

export interface ChartColours {
  ink: string;
  quiet: string;
  hairline: string;
  accent: string;
}

export const label_room = 200;
const label_size = 11;
const support_mark = 10;
const dropper_mark = 5;

/** What the chart library does not draw itself: marks of supports and droppers, lines and losses. */
function drawExtras(u: uPlot, chart: ForceChart, colours: ChartColours): void {
  const { ctx } = u;
  const ratio = devicePixelRatio;
  const { left, top, width, height } = u.bbox;
  const inside = (at: number) => at >= left - 0.5 && at <= left + width + 0.5;
  const x = (at_m: number) => u.valToPos(at_m, 'x', true);
  const y = (force_n: number) => u.valToPos(force_n, 'y', true);
  ctx.save();
  ctx.lineWidth = ratio;
  ctx.strokeStyle = colours.quiet;
  const mark = (places: readonly number[], length: number) => {
    ctx.beginPath();
    for (const place of places) {
      const at = Math.round(x(place)) + 0.5;
      if (inside(at)) {
        ctx.moveTo(at, top + height);
        ctx.lineTo(at, top + height - length * ratio);
      }
    }
    ctx.stroke();
  };
  mark(chart.droppers_m, dropper_mark);
  ctx.lineWidth = 2 * ratio;
  mark(chart.supports_m, support_mark);

  ctx.fillStyle = colours.ink;
  for (const [from, to] of chart.losses_m) {
    const begin = Math.max(x(from), left);
    const end = Math.min(x(to), left + width);
    if (end >= begin) {
      ctx.fillRect(begin, top, Math.max(end - begin, 2 * ratio), 4 * ratio);
    }
  }

  ctx.font = `${label_size * ratio}px ${sheet_fonts}`;
  ctx.textBaseline = 'middle';
  ctx.textAlign = 'left';
  const labels = spreadLabels(
    chart.levels.map((level) => y(level.value)),
    (label_size + 3) * ratio,
  );
  chart.levels.forEach((level, i) => {
    const at = y(level.value);
    ctx.strokeStyle = colours.ink;
    ctx.lineWidth = ratio;
    ctx.setLineDash(level.dash.map((length) => length * ratio));
    ctx.beginPath();
    ctx.moveTo(left, at);
    ctx.lineTo(left + width, at);
    ctx.stroke();
    ctx.setLineDash([]);
    ctx.strokeStyle = colours.hairline;
    ctx.beginPath();
    ctx.moveTo(left + width, at);
    ctx.lineTo(left + width + 8 * ratio, labels[i] as number);
    ctx.stroke();
    ctx.fillStyle = colours.ink;
    ctx.fillText(level.words, left + width + 11 * ratio, labels[i] as number);
  });
  ctx.restore();
}

export function chartOptions(
  chart: ForceChart,
  size: { width: number; height: number },
  colours: ChartColours,
  language: string,
): uPlot.Options {
  const number = new Intl.NumberFormat(language, { maximumFractionDigits: 1, useGrouping: false });
  const axis = (label: string): uPlot.Axis => ({
    label,
    stroke: colours.ink,
    font: `11px ${sheet_fonts}`,
    labelFont: `11px ${sheet_fonts}`,
    labelSize: 16,
    gap: 4,
    grid: { stroke: colours.hairline, width: 1 },
    ticks: { stroke: colours.hairline, width: 1, size: 4 },
    values: (_, values) => values.map((value) => number.format(value)),
  });
  return {
    ...size,
    padding: [8, label_room, 0, 0],
    legend: { show: false },
    cursor: { sync: { key: 'contact-force', scales: ['x', null] }, y: false, points: { size: 6 } },
    scales: {
      x: { time: false, range: (_, from, to) => [from, to] },
      y: { range: [chart.lowest_n, chart.highest_n] },
    },
    axes: [
      { ...axis(chart.x_words), size: 26 },
      { ...axis(chart.y_words), size: 40 },
    ],
    series: [
      {},
      { stroke: colours.hairline, width: 1, points: { show: false }, show: chart.unfiltered_n !== null },
      { stroke: colours.accent, width: 1.5, points: { show: false } },
    ],
    hooks: { draw: [(u) => drawExtras(u, chart, colours)] },
  };
}

export function chartData(chart: ForceChart): uPlot.AlignedData {
  return [chart.at_m, chart.unfiltered_n ?? chart.at_m.map(() => null), chart.filtered_n];
}

function coursePath(
  at_m: readonly number[],
  force_n: readonly number[],
  x: (at: number) => number,
  y: (force: number) => number,
): string {
  return at_m
    .map((at, i) => `${i === 0 ? 'M' : 'L'}${x(at).toFixed(1)} ${y(force_n[i] ?? 0).toFixed(1)}`)
    .join('');
}

/** The charts of all pantographs of a run, one below the other: the inside of an <svg>. */
export function chartsDrawing(
  charts: readonly ForceChart[],
  colours: ChartColours,
): { drawing: string; width: number; height: number } {
  const width = 960;
  const each = 200;
  const left = 52;
  const right = width - label_room;
  const parts = charts.map((chart, n) => {
    const top = n * each + 26;
    const bottom = (n + 1) * each - 38;
    const x = linearScale([chart.from_m, chart.to_m], [left, right]);
    const y = linearScale([chart.lowest_n, chart.highest_n], [bottom, top]);
    const text = (at_x: number, at_y: number, words: string, anchor = 'start', weight = 400) =>
      `<text x="${at_x.toFixed(1)}" y="${at_y.toFixed(1)}" font-family="${escaped(sheet_fonts)}" font-size="${label_size}" font-weight="${weight}" text-anchor="${anchor}" fill="${colours.ink}">${escaped(words)}</text>`;
    const line = (x1: number, y1: number, x2: number, y2: number, stroke: string, wide = 1, dash: number[] = []) =>
      `<line x1="${x1.toFixed(1)}" y1="${y1.toFixed(1)}" x2="${x2.toFixed(1)}" y2="${y2.toFixed(1)}" stroke="${stroke}" stroke-width="${wide}"${dash.length > 0 ? ` stroke-dasharray="${dash.join(' ')}"` : ''}/>`;
    const course = (force: readonly number[], stroke: string, wide: number) =>
      `<path d="${coursePath(chart.at_m, force, x, y)}" fill="none" stroke="${stroke}" stroke-width="${wide}" stroke-linejoin="round"/>`;
    const shown = (at: number) => at >= chart.from_m && at <= chart.to_m;
    const labels = spreadLabels(chart.levels.map((level) => y(level.value)), label_size + 3);
    return [
      text(left, top - 10, `${chart.name}: ${chart.y_words}`, 'start', 600),
      ...ticks(chart.lowest_n, chart.highest_n, 4).flatMap((force) => [
        line(left, y(force), right, y(force), colours.hairline),
        text(left - 6, y(force) + 4, whole(force), 'end'),
      ]),
      ...ticks(chart.from_m, chart.to_m, 8).flatMap((at) => [
        line(x(at), bottom, x(at), bottom + 4, colours.hairline),
        text(x(at), bottom + 17, whole(at), 'middle'),
      ]),
      text((left + right) / 2, bottom + 31, chart.x_words, 'middle'),
      ...chart.droppers_m
        .filter(shown)
        .map((at) => line(x(at), bottom, x(at), bottom - dropper_mark, colours.quiet)),
      ...chart.supports_m
        .filter(shown)
        .map((at) => line(x(at), bottom, x(at), bottom - support_mark, colours.quiet, 2)),
      ...(chart.unfiltered_n ? [course(chart.unfiltered_n, colours.hairline, 1)] : []),
      course(chart.filtered_n, colours.accent, 1.3),
      ...chart.losses_m.map(
        ([from, to]) =>
          `<rect x="${x(from).toFixed(1)}" y="${top}" width="${Math.max(x(to) - x(from), 2).toFixed(1)}" height="4" fill="${colours.ink}"/>`,
      ),
      ...chart.levels.flatMap((level, i) => [
        line(left, y(level.value), right, y(level.value), colours.ink, 1, level.dash),
        line(right, y(level.value), right + 8, labels[i] as number, colours.hairline),
        text(right + 11, (labels[i] as number) + 4, level.words),
      ]),
    ].join('');
  });
  return { drawing: parts.join(''), width, height: each * charts.length };
}
