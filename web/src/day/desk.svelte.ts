/** The day on the desk: its trains as they are planned, how it would be otherwise, what is looked
 *  for in it, and the train of it that is open. */
import type { Comparison, Day, DayOutcome, Decision, Language, Library, PlannedDay, Text, TrainChange } from '../engine/answers';
import { readDay, readLibraryFile, type Trouble } from '../engine/calls';
import { openRun } from '../run/open';
import type { PageDocument } from '../state/state';
import { CardDesk } from './card-desk.svelte';
import { JobWork } from '../engine/job-work.svelte';
import { changes, filtered, first_sorting, no_filter, rowsOf, sorted, type DayRow, type Filter, type Sorting } from './rows';

/** A train of the day with the texts it is planned from. */
export interface OpenedTrain {
  document: PageDocument;
  held: Record<string, string>;
}

export class Desk {
  /** Path of the day's file; null: none is chosen. */
  path: string | null = $state(null);
  what_if: string | null = $state(null);
  day: Day | null = $state.raw(null);
  /** Why there is no day, or no train of it could be opened. */
  trouble: Trouble | null = $state.raw(null);
  readonly planning = new JobWork<PlannedDay>();
  readonly comparing = new JobWork<Comparison>();
  readonly cards = new CardDesk();
  filter: Filter = $state.raw(no_filter);
  sorting: Sorting = $state.raw(first_sorting);
  /** The row and column in focus; null: the first. */
  at: string | null = $state(null);
  column = $state(0);
  /** The table takes the focus when it is shown next. */
  wants_focus = false;
  /** Of the table, while it is shown. */
  focus: (() => void) | null = null;

  private outcomes: ReadonlyMap<string, DayOutcome> = $state.raw(new Map());
  private pending: DayOutcome[] = [];
  private gathering = false;
  /** Until the day's file is read. */
  read: Promise<void> = Promise.resolve();
  private turn = 0;
  private readonly library: () => Library | null;
  readonly language: () => Language;
  /** In which the day is planned. */
  private said_in: Language | null = null;

  constructor(library: () => Library | null, language: () => Language) {
    this.library = library;
    this.language = language;
    // Nobody waits for them any more; what is planned by then is kept by the server.
    window.addEventListener('pagehide', () => {
      void this.planning.stop();
      void this.comparing.stop();
    });
  }

  private readonly changes = $derived(
    new Map<string, TrainChange>((this.comparing.result?.trains ?? []).map((train) => [train.number, train])),
  );
  readonly rows: DayRow[] = $derived.by(() => {
    const names = new Map((this.library()?.files ?? []).map((file) => [file.path, file.name]));
    return this.day ? rowsOf(this.day, this.outcomes, this.changes, (path) => names.get(path) || path, this.cards.by_number) : [];
  });
  private readonly in_order: DayRow[] = $derived(sorted(this.rows, this.sorting));
  /** What the table shows, in its order. */
  readonly shown: DayRow[] = $derived(filtered(this.in_order, this.filter));

  /** Trains that change. */
  get changing(): number {
    return this.rows.filter((row) => changes(row.change)).length;
  }

  get invented(): boolean {
    return (this.day?.invented ?? false) || this.rows.some((row) => row.outcome?.invented);
  }

  /** Another day, from its file. */
  choose(path: string, what_if: string | null): void {
    if (this.path === path) {
      if (this.what_if !== what_if) this.compareWith(what_if);
      return;
    }
    this.path = path;
    this.what_if = what_if;
    this.day = null;
    this.outcomes = new Map();
    this.at = null;
    this.filter = no_filter;
    this.planning.clear();
    this.comparing.clear();
    this.cards.clear();
    void this.plan();
  }

  /** The day as its files are now. Answers that still hold are kept by the server. */
  async plan(): Promise<void> {
    const { path } = this;
    if (path === null) return;
    const turn = ++this.turn;
    const language = this.language();
    this.said_in = language;
    this.planning.clear();
    this.comparing.clear();
    this.cards.forget();
    this.read = this.readFile(path, turn);
    await this.read;
    if (turn !== this.turn || this.trouble) return;
    await this.planning.start(
      { kind: 'day', day: path, language },
      {
        train: (train) => this.gather(train),
        done: (result) => {
          this.pending = [];
          this.outcomes = new Map(result.trains.map((train) => [train.number, train]));
          this.compare();
        },
      },
    );
  }

  /** The day anew, where it was planned in another language. */
  speak(language: Language): void {
    if (this.said_in !== null && this.said_in !== language) void this.plan();
  }

  private async readFile(path: string, turn: number): Promise<void> {
    const outcome = await readDay(path);
    if (turn !== this.turn) return;
    // What is no longer so is not to be looked at while the new answer is worked out.
    this.pending = [];
    this.outcomes = new Map();
    this.trouble = outcome.is === 'trouble' ? outcome.trouble : null;
    this.day = outcome.is === 'answer' ? outcome.answer : null;
  }

  /** Where cards are issued from this page. */
  get with_cards(): boolean {
    return (this.library()?.register ?? null) !== null;
  }

  /** How the cards stand, once the day is planned. */
  lookAtCards(): void {
    const { path } = this;
    const { result } = this.planning;
    if (path !== null && result !== null && this.with_cards) void this.cards.look(path, result, this.language());
  }

  /** How the day would be; null: as it is. */
  compareWith(what_if: string | null): void {
    this.what_if = what_if;
    this.comparing.clear();
    // What is not asked for any more must not hide anything.
    this.filter = what_if === null ? { ...this.filter, changed_only: false } : { ...this.filter, no_longer_only: false };
    this.compare();
  }

  /** The comparison begins with the day's own answers: it waits until they are there. */
  private compare(): void {
    const { path, what_if } = this;
    if (path === null || what_if === null || this.planning.state?.state !== 'done') return;
    if (this.comparing.state || this.comparing.trouble) return;
    void this.comparing.start({ kind: 'day-what-if', day: path, what_if, language: this.language() });
  }

  /** The focus goes to the table, now or as soon as it is there. */
  focusTable(): void {
    this.wants_focus = true;
    this.focus?.();
  }

  toggle(decision: Decision): void {
    const { decisions } = this.filter;
    const others = decisions.filter((one) => one !== decision);
    this.filter = { ...this.filter, decisions: others.length < decisions.length ? others : [...decisions, decision] };
  }

  /** The texts of a train of the day, as the library holds them now; null where one cannot be read,
   *  and `trouble` says which. */
  async open(number: string): Promise<OpenedTrain | null> {
    const { day } = this;
    const row = day?.trains.find((train) => train.number === number);
    if (!day || !row) return null;
    this.trouble = null;
    const conditions = row.conditions ?? day.conditions;
    // A run names the train by itself.
    const of_run = row.run_file !== null ? await openRun(row.run_file) : null;
    if (of_run && !('run' in of_run)) {
      this.trouble = of_run;
      return null;
    }
    const paths = [...(of_run ? [] : [row.train_file, row.route_file]), ...(conditions === null ? [] : [conditions]), ...day.rules];
    const outcomes = await Promise.all(paths.map((path) => readLibraryFile(path)));
    const held: Record<string, string> = { ...of_run?.held };
    const texts: Text[] = [];
    for (const outcome of outcomes) {
      if (outcome.is === 'trouble') this.trouble = outcome.trouble;
      if (outcome.is !== 'answer') return null;
      held[outcome.answer.path] = outcome.answer.sha256;
      texts.push({ name: outcome.answer.path, text: outcome.answer.text });
    }
    const [train, route] = of_run ? [of_run.train, null] : texts;
    const others = of_run ? texts : texts.slice(2);
    if (!train || (!of_run && !route)) return null;
    return {
      document: {
        train: { ...train, model: null },
        route: route ?? null,
        run: of_run?.run ?? null,
        conditions: conditions === null ? null : (others[0] ?? null),
        defects: null,
        rules: conditions === null ? others : others.slice(1),
        of_day: { file: day.path, number },
        // As the day is planned.
        speed_from: 'tables',
      },
      held,
    };
  }

  /** Trains come in bursts; they are shown together, once a frame. */
  private gather(train: DayOutcome): void {
    this.pending.push(train);
    if (this.gathering) return;
    this.gathering = true;
    requestAnimationFrame(() => {
      this.gathering = false;
      const outcomes = new Map(this.outcomes);
      for (const one of this.pending) outcomes.set(one.number, one);
      this.pending = [];
      this.outcomes = outcomes;
    });
  }
}
