/** Cards of a day's trains: which are chosen, what stands against one, and what is asked for. Nothing
 *  here knows of the browser. */
import type { CardStanding, IssuedCard, IssueQuestion, Language } from '../engine/answers';
import type { DayRow } from './rows';

/** Names and day for the cards, as they are written in the form. */
export interface CardNames {
  to: string;
  made_by: string;
  checked_by: string;
  released_by: string;
  /** YYYY-MM-DD; empty: not limited. */
  holds_until: string;
  also_holding: boolean;
}

export const no_names: CardNames = { to: '', made_by: '', checked_by: '', released_by: '', holds_until: '', also_holding: false };

/** A row more, or one less. */
export function toggled(chosen: ReadonlySet<string>, number: string): Set<string> {
  const other = new Set(chosen);
  if (!other.delete(number)) other.add(number);
  return other;
}

/** With all rows from the one that was touched last to this one, in the order they are shown in; the
 *  row alone where the other is not shown. */
export function extended(chosen: ReadonlySet<string>, shown: DayRow[], from: string | null, to: string): Set<string> {
  const end = shown.findIndex((row) => row.number === to);
  const found = shown.findIndex((row) => row.number === from);
  const begin = found < 0 ? end : found;
  return new Set([...chosen, ...shown.slice(Math.min(begin, end), Math.max(begin, end) + 1).map((row) => row.number)]);
}

/** All that are shown; where they are chosen already, none of them. */
export function allOrNone(chosen: ReadonlySet<string>, shown: DayRow[]): Set<string> {
  const all = shown.length > 0 && shown.every((row) => chosen.has(row.number));
  const others = new Set(chosen);
  for (const row of shown) {
    if (all) others.delete(row.number);
    else others.add(row.number);
  }
  return others;
}

/** A card is out that a driver must not use any more. */
export const holdsNoMore = (standing: CardStanding | null): boolean => standing?.holds === false;

/** What stands against a card for a train, as far as the page can tell. The server looks again. */
export type Against =
  | { is: 'refused'; why: string }
  | { is: 'not planned' }
  | { is: 'not looked at' }
  | { is: 'decision'; decision: NonNullable<DayRow['outcome']>['decision'] }
  | { is: 'holds'; issue: number };

export function against(row: DayRow, also_holding: boolean, refused: ReadonlyMap<string, string>): Against | null {
  const why = refused.get(row.number);
  if (why !== undefined) return { is: 'refused', why };
  if (!row.outcome) return { is: 'not planned' };
  if (row.outcome.decision !== 'permitted' && row.outcome.decision !== 'last resort') return { is: 'decision', decision: row.outcome.decision };
  if (!row.standing) return { is: 'not looked at' };
  const { issue, holds } = row.standing;
  return issue && holds && !also_holding ? { is: 'holds', issue: issue.issue } : null;
}

/** Cards for these rows as they are seen. Names without the spaces around them; an empty one is not
 *  stated. */
export function questionOf(day: string, rows: DayRow[], names: CardNames, language: Language): IssueQuestion {
  const stated = (name: string): string | null => name.trim() || null;
  return {
    day,
    trains: rows.map((row) => ({ number: row.number, inputs_sha256: row.outcome?.inputs_sha256 ?? '', replaces: row.standing?.issue?.issue ?? null })),
    to: names.to.trim(),
    made_by: stated(names.made_by),
    checked_by: stated(names.checked_by),
    released_by: stated(names.released_by),
    holds_until: names.holds_until || null,
    also_holding: names.also_holding,
    language,
  };
}

/** Where the card lies as PDF. */
export const addressOfCard = (issue: IssuedCard): string => `/api/issued/${issue.place}/card`;

/** "2031-05-12 18:00 UTC". */
export const timeOfIssue = (at: string): string => at.replace(/^(.{10})T(.{5}).*$/, '$1 $2 UTC');
