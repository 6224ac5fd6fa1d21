/** How the route is laid out along the strip: chainages to pixels, stretches, step lines, and which
 *  words have room. */
import type { Plan, PlannedSection } from '../engine/answers';
import { orderedAt } from '../state/place';

/** The piece of route shown, in kilometres. */
export interface Window {
  from_km: number;
  to_km: number;
}

/** The front of a train is at the left in all drawings: chainages rise to the left, as it runs. */
export const xAt = (window: Window, width: number, km: number): number =>
  ((window.to_km - km) / (window.to_km - window.from_km)) * width;

/** Left edge of a label that begins at `x` and runs against the travel, held within the drawing. */
export const labelLeft = (x: number, label_width: number, width: number): number =>
  Math.max(0, Math.min(x - label_width, width - label_width));

/** The window `factor` times as wide, within the route, with `km` in it and where it was on the
 *  screen, as far as the ends allow. */
export function zoomed(window: Window, route: Window, km: number, factor: number, least_km = 0.5): Window {
  const whole = route.to_km - route.from_km;
  const length = Math.min(whole, Math.max(Math.min(least_km, whole), (window.to_km - window.from_km) * factor));
  const share = (km - window.from_km) / (window.to_km - window.from_km);
  const kept = share >= 0 && share <= 1 ? share : 0.5;
  return shifted({ from_km: km - kept * length, to_km: km + (1 - kept) * length }, route);
}

function shifted(window: Window, route: Window): Window {
  const length = window.to_km - window.from_km;
  const from = Math.max(route.from_km, Math.min(window.from_km, route.to_km - length));
  return { from_km: from, to_km: from + length };
}

/** The window moved, no farther than it must be, so that `km` is in it with a margin. */
export function following(window: Window, route: Window, km: number): Window {
  const length = window.to_km - window.from_km;
  const margin = length * 0.06;
  if (km < window.from_km + margin) return shifted({ from_km: km - margin, to_km: km - margin + length }, route);
  if (km > window.to_km - margin) return shifted({ from_km: km + margin - length, to_km: km + margin }, route);
  return window;
}

/** Neighbouring sections of a plan with the same things up in the same way. */
export interface Stretch {
  from_km: number;
  to_km: number;
  section: PlannedSection;
}

const lookOf = (section: PlannedSection): string =>
  [section.answer, section.lowered_for ?? '', section.raised.join(' '), section.put_dead_in_tow.join(' '), section.reversed].join('|');

export function stretchesOf(sections: PlannedSection[]): Stretch[] {
  const stretches: Stretch[] = [];
  for (const section of sections) {
    const last = stretches.at(-1);
    if (last && lookOf(last.section) === lookOf(section)) last.to_km = section.to_km;
    else stretches.push({ from_km: section.from_km, to_km: section.to_km, section });
  }
  return stretches;
}

export interface Step {
  from_km: number;
  to_km: number;
  value: number;
}

/** Neighbouring steps of one value as one. */
export function mergedSteps(steps: Step[]): Step[] {
  const merged: Step[] = [];
  for (const step of steps) {
    const last = merged.at(-1);
    if (last && last.value === step.value) last.to_km = step.to_km;
    else merged.push({ ...step });
  }
  return merged;
}

/** How fast the train runs along the way; 0 where it may not run, or does not come. */
export function orderedSteps(plan: Plan): Step[] {
  const borders = plan.sections.flatMap((section) => [section.from_km, section.to_km]);
  const [first, last] = [Math.min(...borders), Math.max(...borders)];
  const orders = plan.instructions.filter((one) => one.action === 'speed' && one.at_km > first && one.at_km < last).map((one) => one.at_km);
  const places = [...new Set([...borders, ...orders])].sort((a, b) => a - b);
  return mergedSteps(places.slice(0, -1).map((from_km, i) => ({ from_km, to_km: places[i + 1] ?? from_km, value: orderedAt(plan, from_km)?.speed_kmh ?? 0 })));
}

/** Round speeds from 0 to the top, for a scale of three or four steps. */
export function speedScale(top_kmh: number): number[] {
  const step = [20, 40, 50, 100].find((each) => top_kmh / each <= 4.5) ?? 100;
  return Array.from({ length: Math.floor(top_kmh / step) + 1 }, (_, index) => index * step);
}

/** A step line as an SVG path; broken where the value is 0. */
export function stepPath(steps: Step[], x: (km: number) => number, y: (value: number) => number): string {
  let path = '';
  let drawing = false;
  for (const step of steps) {
    if (step.value <= 0) {
      drawing = false;
      continue;
    }
    path += `${drawing ? 'L' : 'M'}${round(x(step.from_km))} ${round(y(step.value))}L${round(x(step.to_km))} ${round(y(step.value))}`;
    drawing = true;
  }
  return path;
}

const round = (value: number): number => Math.round(value * 100) / 100;

export interface Label {
  x: number;
  width: number;
  /** The smaller, the earlier it is placed. */
  rank: number;
}

/** The row in which each label stands so that none touches another, -1 for one without room. Labels
 *  begin at their `x`. */
export function placedLabels(labels: Label[], rows: number, right: number, gap = 8): number[] {
  const taken: { from: number; to: number }[][] = Array.from({ length: rows }, () => []);
  const result = labels.map(() => -1);
  const order = labels.map((_, index) => index).sort((a, b) => (labels[a]?.rank ?? 0) - (labels[b]?.rank ?? 0) || a - b);
  for (const index of order) {
    const label = labels[index];
    if (!label || label.x < -1 || label.x + label.width > right + 1) continue;
    const row = taken.findIndex((others) =>
      others.every((other) => label.x >= other.to + gap || label.x + label.width + gap <= other.from),
    );
    if (row < 0) continue;
    taken[row]?.push({ from: label.x, to: label.x + label.width });
    result[index] = row;
  }
  return result;
}

/** Round chainages about `pixels` apart. */
export function ticksOf(window: Window, width: number, pixels = 90): number[] {
  const wanted = ((window.to_km - window.from_km) * pixels) / Math.max(width, 1);
  const power = 10 ** Math.floor(Math.log10(wanted));
  const step = [1, 2, 5, 10].map((each) => each * power).find((each) => each >= wanted) ?? wanted;
  const first = Math.ceil(window.from_km / step - 1e-9);
  const last = Math.floor(window.to_km / step + 1e-9);
  return Array.from({ length: Math.max(0, last - first + 1) }, (_, index) => Number(((first + index) * step).toFixed(6)));
}

/** About the width of words set in the page's type. */
export const wordsWidth = (words: string, size: number): number => words.length * size * 0.57;
