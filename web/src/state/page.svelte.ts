/** The page's state where components see it, the engine's answers to it, and its draft. */
import type { Language, Library, PartQuestion, PlanAnswer, RunAnswer, SpeedFrom, TrainModel } from '../engine/answers';
import { latestOnly, makePlan, readLibrary, readTrain, writeTrain, type Outcome, type Trouble } from '../engine/calls';
import { addressFrom } from '../day/address';
import { JobWork } from '../engine/job-work.svelte';
import { isRun, openPart, partWithin } from '../run/parts';
import { changeTabDraft, newDraftId, readDraft, removeDraft, storeDraft, takeTabDraft, type Release } from './drafts';
import { readHistory, storeHistory, type History } from './history';
import { fromLink } from './link';
import { openingOf } from './opening';
import { mayBeHandedOut, mechanicsOf, type Mechanics } from './speeds';
import {
  firstState,
  keptOf,
  reduce,
  type Kept,
  type PageDocument,
  type PageEvent,
  type State,
  type Theme,
} from './state';

const choices_key = 'panup.choices';
/** Changes that come within this time are answered once. */
const gather_ms = 20;
const try_again_ms = 2000;

function readChoices(): { language: Language; theme: Theme } {
  const own: Language = navigator.language.startsWith('de') ? 'de' : 'en';
  try {
    const value = JSON.parse(localStorage.getItem(choices_key) ?? '{}') as Record<string, unknown>;
    return {
      language: value.language === 'de' || value.language === 'en' ? value.language : own,
      theme: value.theme === 'light' || value.theme === 'dark' ? value.theme : 'system',
    };
  } catch {
    return { language: own, theme: 'system' };
  }
}

export class Page {
  state: State = $state.raw(firstState(readChoices().language, readChoices().theme));
  library: Library | null = $state.raw(null);
  private reply: PlanAnswer | RunAnswer | null = $state.raw(null);
  /** All parts; null where the train is planned on a route. */
  readonly run: RunAnswer | null = $derived(this.reply && isRun(this.reply) ? this.reply : null);
  /** The part that is open; 1 where the train is planned on a route. */
  readonly run_part: number = $derived(this.reply ? partWithin(this.reply, this.state.view.run_part) : 1);
  /** The plan on view: of a run, that of the part that is open. */
  readonly answer: PlanAnswer | null = $derived(this.reply ? openPart(this.reply, this.run_part) : null);
  /** Makes the plan by the mechanics, which takes its time, while that by the tables is on view. */
  private readonly asking = new JobWork<PlanAnswer | RunAnswer>();
  /** What gives the speeds of the plan on view. */
  readonly speeds_shown: SpeedFrom = $derived(this.answer?.plan.speed_from ?? 'tables');
  readonly mechanics: Mechanics = $derived(mechanicsOf(this.state.document.speed_from, this.speeds_shown, this.asking));
  /** The plan on view does not go by what was asked for: it is not handed out. */
  readonly withheld: boolean = $derived(!mayBeHandedOut(this.state.document.speed_from, this.speeds_shown));
  /** Why there is no answer to the document as it stands. */
  trouble: Trouble | null = $state.raw(null);
  waiting = $state(false);
  /** False where the browser has no room left for the draft. */
  kept_safe = $state(true);
  /** A link was opened that could not be read. */
  bad_link = $state(false);
  draft = $state('');
  /** The page is still looking for what it is to show. */
  opening = $state(true);

  /** True where what is shown was worked out for another document than the present one. */
  get stale(): boolean {
    return this.waiting || this.trouble !== null;
  }

  private answered: PageDocument | null = null;
  private answered_language: Language | null = null;
  private timer: ReturnType<typeof setTimeout> | undefined;
  private keeping: ReturnType<typeof setTimeout> | undefined;
  private touched = false;
  /** Going along the route is no step: what is kept of those is not written again for it. */
  private history_kept: History | null = null;
  private release: Release | null = null;
  /** A change waits for its question to be asked. */
  private unasked = false;
  private readonly latest = latestOnly();

  dispatch = (event: PageEvent): void => {
    const before = this.state;
    this.state = reduce(before, event);
    if (this.state === before) return;
    if (event.do === 'language' || event.do === 'theme') {
      const { language, theme } = this.state;
      localStorage.setItem(choices_key, JSON.stringify({ language, theme }));
    }
    if (this.state.past.length > 0) this.touched = true;
    this.keepSoon();
    this.answerSoon();
  };

  async begin(): Promise<void> {
    window.addEventListener('pagehide', () => {
      this.keep();
      void this.asking.stop();
    });
    window.addEventListener('hashchange', () => void this.openLink());
    const taken = await takeTabDraft(localStorage, sessionStorage);
    this.draft = taken.id;
    this.release = taken.release;
    if (taken.kept) {
      this.touched = readDraft(localStorage, taken.id) !== null;
      this.take(taken.kept);
    }
    const linked = await this.openLink();
    await this.readLibrary();
    if (!taken.kept && !linked && this.library) {
      const opening = await openingOf(this.library, this.state.language);
      // Somebody may have opened a file meanwhile.
      if (opening && this.state.past.length === 0 && !this.state.document.train) {
        this.state = { ...this.state, document: opening.document, held: opening.held };
        // It was planned to be chosen: it need not be asked for again.
        this.reply = opening.answer;
        this.answered = this.state.document;
        this.answered_language = this.state.language;
        this.keepSoon();
      }
    }
    this.opening = false;
  }

  async readLibrary(): Promise<void> {
    const outcome = await readLibrary();
    if (outcome.is === 'answer') {
      this.library = outcome.answer;
    } else if (outcome.is === 'trouble' && outcome.trouble.status === 0) {
      setTimeout(() => void this.readLibrary(), try_again_ms);
    }
  }

  /** Opens another draft in this tab; the present one stays where it is. */
  async openDraft(id: string): Promise<boolean> {
    const kept = readDraft(localStorage, id);
    if (!kept) return false;
    this.keep();
    if (!(await this.change(id))) return false;
    this.take(kept);
    return true;
  }

  /** A link opens as a draft of its own, whatever the tab held before. */
  private async openLink(): Promise<boolean> {
    // A day and its train are no draft: see day/address.ts.
    if (location.hash.length < 2 || addressFrom(location.hash)) return false;
    const kept = await fromLink(location.hash);
    history.replaceState(null, '', location.pathname + location.search);
    this.bad_link = kept === null;
    if (!kept) return false;
    this.keep();
    await this.change(newDraftId());
    this.take(kept);
    this.keep();
    return true;
  }

  /** The tab goes over to another draft; false where another tab has that one. */
  private async change(id: string): Promise<boolean> {
    const release = await changeTabDraft(sessionStorage, id);
    if (!release) return false;
    this.release?.();
    this.release = release;
    this.draft = id;
    this.touched = true;
    return true;
  }

  private take(kept: Kept): void {
    const { theme, language } = this.state;
    this.history_kept = null;
    this.state = { ...firstState(language, theme), ...kept, ...readHistory(sessionStorage, this.draft) };
    this.answerSoon();
  }

  private title(): string {
    const { train, route, run } = this.state.document;
    const name = train?.model?.name ?? train?.name ?? '';
    const way = this.answered === this.state.document ? (this.run?.run.name ?? this.answer?.route.name) : (run ?? route)?.name;
    return [name, way].filter(Boolean).join(' · ');
  }

  private keepSoon(): void {
    clearTimeout(this.keeping);
    this.keeping = setTimeout(() => this.keep(), 200);
  }

  /** What nobody has changed is kept for this tab alone and leaves no draft behind. */
  private keep(): void {
    clearTimeout(this.keeping);
    if (!this.draft || !this.state.document.train) return;
    const shelf = this.touched ? localStorage : sessionStorage;
    if (this.touched) removeDraft(sessionStorage, this.draft);
    const { past, future } = this.state;
    if (this.history_kept?.past !== past || this.history_kept.future !== future) {
      storeHistory(sessionStorage, this.draft, { past, future });
      this.history_kept = { past, future };
    }
    this.kept_safe = storeDraft(shelf, this.draft, this.title(), keptOf(this.state), new Date());
  }

  private answerSoon(): void {
    const { document, language } = this.state;
    if (document === this.answered && language === this.answered_language) return;
    // What is computed for the document before is of no use any more.
    this.asking.clear();
    if (!document.train || !(document.route ?? document.run)) {
      this.askNothing();
      return;
    }
    this.waiting = true;
    this.unasked = true;
    clearTimeout(this.timer);
    this.timer = setTimeout(() => void this.answerNow(), gather_ms);
  }

  /** There is nothing to plan: an answer to something else would mislead. */
  private askNothing(): void {
    clearTimeout(this.timer);
    void this.latest(() => Promise.resolve({ is: 'stale' }));
    this.waiting = false;
    this.unasked = false;
    this.trouble = null;
    this.reply = null;
    this.answered = null;
  }

  /** Goes to a part of the run, and to a place in it; to its beginning where none is given. */
  openPart(run_part: number, at_km?: number): void {
    const part = this.run?.parts[run_part - 1];
    this.dispatch({ do: 'open part', run_part, at_km: at_km ?? part?.route.from_km ?? 0 });
  }

  private async answerNow(): Promise<void> {
    this.unasked = false;
    const { document, language } = this.state;
    const outcome = await this.latest((signal) => this.planOf(document, language, signal));
    if (outcome.is === 'stale' || this.unasked) return;
    this.waiting = false;
    if (outcome.is === 'trouble') {
      this.trouble = outcome.trouble;
      if (outcome.trouble.status === 0) {
        clearTimeout(this.timer);
        this.timer = setTimeout(() => void this.answerNow(), try_again_ms);
      } else {
        this.answered = this.state.document;
        this.answered_language = language;
      }
      return;
    }
    this.trouble = null;
    this.reply = outcome.answer;
    const { text } = this.state.document.train ?? {};
    if (text != null && !this.state.document.train?.model) {
      this.state = reduce(this.state, { do: 'train read', text, model: outcome.answer.train });
    }
    // Part and place may be left over from a longer way.
    const run_part = partWithin(outcome.answer, this.state.view.run_part);
    const { from_km, to_km } = openPart(outcome.answer, run_part).route;
    const at_km = Math.max(from_km, Math.min(this.state.view.at_km, to_km));
    if (run_part !== this.state.view.run_part) this.state = reduce(this.state, { do: 'open part', run_part, at_km });
    if (at_km !== this.state.view.at_km) this.state = reduce(this.state, { do: 'go to', at_km });
    this.answered = this.state.document;
    this.answered_language = language;
    this.keepSoon();
    this.askMechanics();
  }

  /** Asks the mechanics about the document that was planned by the tables, where that is wanted. */
  askMechanics(): void {
    const { speed_from } = this.state.document;
    const question = this.question();
    if (speed_from === 'tables' || !question) return;
    const { part: _, ...asked } = question;
    void this.asking.start({ kind: 'plan', ...asked, speed_from }, { done: (reply) => (this.reply = reply) });
  }

  stopMechanics(): void {
    void this.asking.stop();
  }

  private async planOf(
    document: PageDocument,
    language: Language,
    signal: AbortSignal,
  ): Promise<Outcome<PlanAnswer | RunAnswer>> {
    const { train, route, run, conditions, defects, rules, of_day: day } = document;
    if (!train || !(route ?? run)) return { is: 'stale' };
    const { name, text, model } = train;
    const beside = { route, run, conditions, defects, rules, day, speed_from: 'tables' as const, language };
    if (text !== null) {
      const outcome = await makePlan({ train: { name, text }, ...beside }, signal);
      if (outcome.is === 'trouble' && !model && !signal.aborted) {
        // The train may be sound though the route is not: it can be worked on all the same.
        const read = await readTrain({ name, text }, signal);
        if (read.is === 'answer' && !signal.aborted) {
          this.state = reduce(this.state, { do: 'train read', text, model: read.answer.train });
        }
      }
      return outcome;
    }
    if (!model) return { is: 'stale' };
    const outcome = await makePlan({ train: { name, model }, ...beside }, signal);
    if (outcome.is === 'answer' && !signal.aborted) {
      this.written(model, outcome.answer.train_text);
    } else if (outcome.is === 'trouble' && outcome.trouble.status !== 0 && !signal.aborted) {
      // As above: a sound train has a text.
      const written = await writeTrain(model, name, signal);
      if (written.is === 'answer' && !signal.aborted) this.written(model, written.answer.text);
    }
    return outcome;
  }

  private written(model: TrainModel, text: string): void {
    this.state = reduce(this.state, { do: 'train written', model, text });
  }

  /** The question that the answer shown belongs to; null while there is none to ask. */
  question(): PartQuestion | null {
    const { train, route, run, conditions, defects, rules, of_day: day } = this.state.document;
    if (train?.text == null || !(route ?? run)) return null;
    return {
      train: { name: train.name, text: train.text },
      route,
      run,
      conditions,
      defects,
      rules,
      day,
      speed_from: this.speeds_shown,
      language: this.state.language,
      part: run ? this.run_part : null,
    };
  }
}
