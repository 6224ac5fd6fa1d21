/** What of a day is open, as the fragment of the page's address says it: "#day=…&train=…&part=…&if=…". A
 *  fragment is not sent to any server. */

export interface DayAddress {
  day: string;
  /** The train that is open; null: the table is. */
  train: string | null;
  /** Of a train whose vehicles change on its way: the part that is open, counted from 1. */
  part: number;
  what_if: string | null;
}

/** With its `#`. */
export function fragmentOf({ day, train, part, what_if }: DayAddress): string {
  const parts = new URLSearchParams({ day });
  if (train !== null) parts.set('train', train);
  if (train !== null && part > 1) parts.set('part', String(part));
  if (what_if !== null) parts.set('if', what_if);
  return `#${parts.toString()}`;
}

/** Null where it names no day. */
export function addressFrom(fragment: string): DayAddress | null {
  const parts = new URLSearchParams(fragment.replace(/^#/, ''));
  const day = parts.get('day');
  const part = Number(parts.get('part'));
  return day ? { day, train: parts.get('train') || null, part: Number.isInteger(part) && part > 1 ? part : 1, what_if: parts.get('if') || null } : null;
}
