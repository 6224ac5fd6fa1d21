/** The cards of the day on the desk: how they stand, which trains are chosen to get one, and what
 *  came of it. */
import type { CardStanding, IssueAnswer, IssuedAnswer, Language } from '../engine/answers';
import { issueCards, readIssued, type Trouble } from '../engine/calls';
import { allOrNone, extended, no_names, questionOf, toggled, type CardNames } from './cards';
import type { DayRow } from './rows';

const none: ReadonlyMap<string, string> = new Map();

export class CardDesk {
  /** How they stood when they were looked at last; null: not yet. */
  standing: IssuedAnswer | null = $state.raw(null);
  trouble: Trouble | null = $state.raw(null);
  looking = $state(false);
  chosen: ReadonlySet<string> = $state.raw(new Set<string>());
  names: CardNames = $state({ ...no_names });
  /** Why the server refused a train, by its number. */
  refused: ReadonlyMap<string, string> = $state.raw(none);
  issuing = $state(false);
  /** What was issued last. */
  issued: IssueAnswer | null = $state.raw(null);

  /** What the cards were held against when they were looked at. */
  private of: unknown = null;
  private turn = 0;
  /** Counts the days that were looked at. */
  private days = 0;
  private touched: string | null = null;

  readonly by_number: ReadonlyMap<string, CardStanding> = $derived(new Map((this.standing?.trains ?? []).map((train) => [train.number, train])));
  /** Cards that are out for trains that are no longer in the day. */
  readonly gone: CardStanding[] = $derived((this.standing?.trains ?? []).filter((train) => !train.in_the_day));

  /** Nothing of another day stays, but for the names. */
  clear(): void {
    this.forget();
    ++this.days;
    this.chosen = new Set<string>();
    this.touched = null;
    this.issued = null;
    this.names = { ...this.names, holds_until: '', also_holding: false };
  }

  /** What was known of the cards; what is chosen stays. */
  forget(): void {
    ++this.turn;
    this.of = null;
    this.looking = false;
    this.standing = null;
    this.trouble = null;
    this.refused = none;
  }

  /** How the cards stand; once for each answer of the day, unless they are others by now. */
  async look(day: string, of: unknown, language: Language, again = false): Promise<void> {
    if (this.of === of && !again) return;
    this.of = of;
    const turn = ++this.turn;
    this.looking = true;
    const outcome = await readIssued(day, language);
    if (turn !== this.turn) return;
    this.looking = false;
    this.trouble = outcome.is === 'trouble' ? outcome.trouble : null;
    this.standing = outcome.is === 'answer' ? outcome.answer : null;
  }

  toggle(number: string): void {
    this.chosen = toggled(this.chosen, number);
    this.touched = number;
  }

  extend(shown: DayRow[], number: string): void {
    this.chosen = extended(this.chosen, shown, this.touched, number);
    this.touched = number;
  }

  chooseShown(shown: DayRow[]): void {
    this.chosen = allOrNone(this.chosen, shown);
  }

  leaveOut(numbers: string[]): void {
    const out = new Set(numbers);
    this.chosen = new Set([...this.chosen].filter((number) => !out.has(number)));
  }

  /** Issues the cards of these rows; true where they are issued. */
  async issue(day: string, rows: DayRow[], language: Language): Promise<boolean> {
    this.issuing = true;
    this.trouble = null;
    this.refused = none;
    this.issued = null;
    const { of, days } = this;
    const outcome = await issueCards(questionOf(day, rows, this.names, language));
    this.issuing = false;
    // Another day is on the desk: what came of this one is seen when it is looked at again.
    if (days !== this.days) return false;
    if (outcome.is === 'trouble') {
      this.trouble = outcome.trouble;
      this.refused = new Map((outcome.trouble.trains ?? []).map((train) => [train.number, train.why]));
      return false;
    }
    if (outcome.is !== 'answer') return false;
    this.issued = outcome.answer;
    this.chosen = new Set<string>();
    this.names = { ...this.names, also_holding: false };
    await this.look(day, of, language, true);
    return true;
  }
}
