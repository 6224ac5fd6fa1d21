// Scales from quantities to points on the drawing, and where their ticks stand.

export interface Scale {
  (value: number): number;
  invert(at: number): number;
}

/** A linear scale; a domain of no width is held to the middle of the range. */
export function linearScale(domain: [number, number], range: [number, number]): Scale {
  const width = domain[1] - domain[0];
  const factor = width === 0 ? 0 : (range[1] - range[0]) / width;
  const from = width === 0 ? (range[0] + range[1]) / 2 : range[0];
  const scale = ((value: number) => from + (value - domain[0]) * factor) as Scale;
  scale.invert = (at) => (factor === 0 ? domain[0] : domain[0] + (at - from) / factor);
  return scale;
}

/** The step of 1, 2 or 5 times a power of ten that gives about `count` steps. */
export function roundStep(width: number, count: number): number {
  if (!(width > 0) || !(count > 0)) {
    return 1;
  }
  const rough = width / count;
  const power = 10 ** Math.floor(Math.log10(rough));
  const share = rough / power;
  return (share < 1.5 ? 1 : share < 3.5 ? 2 : share < 7.5 ? 5 : 10) * power;
}

/** Round values from `from` to `to`, both included where they are round. */
export function ticks(from: number, to: number, count: number): number[] {
  const step = roundStep(to - from, count);
  const places: number[] = [];
  // Counted in whole steps, so that sums of fractions do not drift.
  for (let i = Math.ceil(from / step - 1e-9); i * step <= to + step * 1e-9; ++i) {
    places.push(Number((i * step).toPrecision(12)));
  }
  return places;
}

/** The first value at or after it; the length where all are less. Values rise. */
export function lowerBound(values: readonly number[], wanted: number): number {
  let low = 0;
  let high = values.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if ((values[middle] as number) < wanted) {
      low = middle + 1;
    } else {
      high = middle;
    }
  }
  return low;
}

/** The value between neighbours by straight lines; at the ends, the last one known. */
export function interpolate(at: readonly number[], values: readonly number[], wanted: number): number {
  const after = lowerBound(at, wanted);
  if (after === 0) {
    return values[0] ?? 0;
  }
  if (after >= at.length) {
    return values[values.length - 1] ?? 0;
  }
  const before_at = at[after - 1] as number;
  const share = (wanted - before_at) / ((at[after] as number) - before_at);
  const before = values[after - 1] as number;
  return before + share * ((values[after] as number) - before);
}
