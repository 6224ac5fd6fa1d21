/** Trains of the day on the page: opened from the table, left again, one after the other; and what is
 *  open, in the page's address. Browser's back and forward go between the table and a train; from one
 *  train to the next they do not stop. */
import { onMount, untrack } from 'svelte';
import type { Page } from '../state/page.svelte';
import type { PageDocument } from '../state/state';
import { addressFrom, fragmentOf, type DayAddress } from './address';
import type { Desk } from './desk.svelte';
import { neighbours } from './rows';

const kindOf = (address: DayAddress | null): string => (address === null ? 'none' : address.train === null ? 'table' : 'train');

const textsOf = ({ train, route, run, conditions, defects, rules }: PageDocument): string => JSON.stringify([train?.text, route, run, conditions, defects, rules]);

export class Visits {
  private readonly held: Page;
  private readonly desk: Desk;
  /** The train as the library had it when it was opened. */
  private opened: PageDocument | null = $state.raw(null);
  private begun = $state(false);
  private turn = 0;

  /** To be made while a component is: it follows the page as long as that is there. */
  constructor(held: Page, desk: Desk) {
    this.held = held;
    this.desk = desk;
    onMount(() => {
      void this.begin();
      const go = (): void => void this.goTo(location.hash);
      window.addEventListener('hashchange', go);
      return () => window.removeEventListener('hashchange', go);
    });
    $effect(() => this.writeAddress());
    $effect(() => this.fetchOpened());
  }

  private get of_day() {
    return this.held.state.document.of_day;
  }
  private get part() {
    return this.held.state.view.part;
  }

  /** A train of a day is on view. */
  get number(): string | null {
    return this.part === 'plan' || this.part === 'wire' ? (this.of_day?.number ?? null) : null;
  }

  /** What is shown is no longer what the library had, and the table shows. */
  get changed(): boolean {
    const { opened } = this;
    const { document } = this.held.state;
    return opened !== null && this.isOpened(opened) && document.train?.text != null && textsOf(opened) !== textsOf(document);
  }

  async open(number: string, run_part = 1): Promise<void> {
    const turn = ++this.turn;
    const { desk, held } = this;
    desk.at = number;
    const train = await desk.open(number);
    if (!train || turn !== this.turn) return;
    this.opened = train.document;
    for (const [path, sha256] of Object.entries(train.held)) held.dispatch({ do: 'held', path, sha256 });
    held.dispatch({ do: 'open', document: train.document, view: { part: this.part === 'wire' ? 'wire' : 'plan', run_part } });
    if (this.part === 'plan') scrollTo(0, 0);
  }

  back(): void {
    if (!this.of_day) return;
    this.desk.at = this.of_day.number;
    this.desk.wants_focus = true;
    this.held.dispatch({ do: 'show', part: 'day' });
  }

  /** A file of the library is another one now. */
  written(): void {
    this.opened = null;
    void this.desk.plan();
  }

  /** Whether the key was for a train of the day. */
  takes(event: KeyboardEvent): boolean {
    const { number } = this;
    if (number === null || event.defaultPrevented) return false;
    const { target } = event;
    if (target instanceof HTMLTextAreaElement || target instanceof HTMLSelectElement || (target instanceof HTMLInputElement && target.type !== 'range')) return false;
    const beside = neighbours(this.desk.shown, number);
    const to = event.altKey && event.key === 'ArrowUp' ? beside?.before : event.altKey && event.key === 'ArrowDown' ? beside?.after : null;
    if (event.key === 'Escape') this.back();
    else if (to != null) void this.open(to);
    else return false;
    return true;
  }

  private isOpened(opened: PageDocument): boolean {
    return opened.of_day?.file === this.of_day?.file && opened.of_day?.number === this.of_day?.number;
  }

  private async begin(): Promise<void> {
    const fragment = location.hash;
    await this.held.begin();
    await this.goTo(fragment);
    this.begun = true;
  }

  private async goTo(fragment: string): Promise<void> {
    const { desk, held } = this;
    const address = addressFrom(fragment);
    if (!address) {
      if (this.begun && this.part === 'day' && location.hash === '') held.dispatch({ do: 'show', part: 'plan' });
      return;
    }
    desk.choose(address.day, address.what_if);
    const isThere = (): boolean => this.of_day?.file === address.day && this.of_day.number === address.train;
    if (address.train !== null && !isThere()) {
      await desk.read;
      await this.open(address.train, address.part);
    } else if (address.train !== null && address.part !== this.held.state.view.run_part) {
      held.openPart(address.part);
    }
    if (!isThere()) {
      desk.wants_focus = this.begun;
      held.dispatch({ do: 'show', part: 'day' });
    } else if (this.part === 'day') {
      held.dispatch({ do: 'show', part: 'plan' });
    }
  }

  private get address(): DayAddress | null {
    const { path, what_if } = this.desk;
    if (this.part === 'day') return path === null ? null : { day: path, train: null, part: 1, what_if };
    const { of_day } = this;
    return of_day ? { day: of_day.file, train: of_day.number, part: this.held.state.view.run_part, what_if: path === of_day.file ? what_if : null } : null;
  }

  private writeAddress(): void {
    if (!this.begun) return;
    const { address } = this;
    const fragment = address ? fragmentOf(address) : '';
    if (location.hash === fragment) return;
    const url = `${location.pathname}${location.search}${fragment}`;
    if (kindOf(addressFrom(location.hash)) === kindOf(address)) history.replaceState(null, '', url);
    else history.pushState(null, '', url);
  }

  /** A draft, or a step back, may have a train of a day that is not on the desk, or was not opened
   *  from it. */
  private fetchOpened(): void {
    const { begun, desk, of_day } = this;
    if (!begun || !of_day || this.part === 'day') return;
    untrack(() => desk.choose(of_day.file, desk.path === of_day.file ? desk.what_if : null));
    if ((this.opened && this.isOpened(this.opened)) || !desk.day) return;
    void desk.open(of_day.number).then((train) => {
      if (train && this.isOpened(train.document)) this.opened = train.document;
    });
  }
}
