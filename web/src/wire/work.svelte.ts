// One computation as the page sees it: asked for, under way, ended, or refused; kept by its number
// so that a reload finds it again.

import type { JobState, Language } from '../engine/answers';
import { endJob, readJob, startJob, type Trouble } from '../engine/calls';
import { followJob, isUnderWay } from '../engine/jobs';
import { emptyCells } from './heat-map';
import type { EnvelopeCell, EnvelopeRequest, EnvelopeResult, SimulateRequest, SimulationResult } from './results';

type Request = SimulateRequest | EnvelopeRequest;

export interface KeptJob<R extends Request> {
  id: string;
  request: R;
  /** In which it was asked for; where it is not there, English. */
  language?: Language;
}

export class Work<R extends Request, T> {
  request: R | null = $state.raw(null);
  state: JobState | null = $state.raw(null);
  result: T | null = $state.raw(null);
  trouble: Trouble | null = $state.raw(null);
  /** The server has forgotten it, such as after it was started anew. */
  forgotten = $state(false);
  cells: (EnvelopeCell | null)[][] = $state.raw([]);

  private id: string | null = $state(null);
  /** The language of what is on view, or under way. */
  private said_in: Language = $state('en');
  private unfollow: (() => void) | null = null;
  private pending: EnvelopeCell[] = [];
  private gathering = false;

  constructor(private readonly language: () => Language) {}

  get under_way(): boolean {
    return isUnderWay(this.state);
  }

  /** From 0 to 1; null where it is not known, or is a single step. */
  get share(): number | null {
    return this.state && this.state.expected > 1
      ? Math.min(this.state.done / this.state.expected, 1)
      : null;
  }

  /** What to keep so that it is found again. */
  get kept(): KeptJob<R> | null {
    return this.id !== null && this.request !== null ? { id: this.id, request: this.request, language: this.said_in } : null;
  }

  async start(request: R): Promise<void> {
    // What comes next takes its place; the server need not keep it any longer.
    if (this.id !== null && this.state !== null) await endJob(this.id);
    this.clear(request);
    const language = this.language();
    this.said_in = language;
    const outcome = await startJob({ ...request, language });
    if (this.request !== request) return;
    if (outcome.is === 'trouble') {
      this.trouble = outcome.trouble;
      return;
    }
    if (outcome.is === 'answer') {
      this.id = outcome.answer.id;
      this.state = { id: this.id, kind: request.kind, state: 'waiting', done: 0, expected: 0 };
      this.follow(this.id);
    }
  }

  /** Takes up a job of an earlier visit. */
  async takeUp(kept: KeptJob<R>): Promise<void> {
    this.clear(kept.request);
    this.said_in = kept.language ?? 'en';
    this.id = kept.id;
    const outcome = await readJob<T>(kept.id);
    if (this.id !== kept.id) return;
    if (outcome.is === 'trouble') {
      this.forgotten = outcome.trouble.status === 404;
      this.trouble = this.forgotten ? null : outcome.trouble;
      return;
    }
    if (outcome.is !== 'answer') return;
    this.state = outcome.answer;
    if (this.under_way || kept.request.kind === 'envelope') {
      this.follow(kept.id);
    }
    this.result = outcome.answer.result ?? null;
    this.speak();
  }

  /** The same anew, where it was asked for in another language than the page is in. */
  speak(): void {
    if (this.id !== null && this.request !== null && this.said_in !== this.language()) void this.start(this.request);
  }

  /** Ends it where it is under way; what is known of it by then stays on view. */
  async stop(): Promise<void> {
    if (this.id !== null && this.under_way) {
      await endJob(this.id);
      this.unfollow?.();
      if (this.state) this.state = { ...this.state, state: 'cancelled' };
    }
  }

  close(): void {
    this.unfollow?.();
    this.unfollow = null;
  }

  private clear(request: R): void {
    this.close();
    this.id = null;
    this.request = request;
    this.state = null;
    this.result = null;
    this.trouble = null;
    this.forgotten = false;
    this.pending = [];
    this.cells =
      request.kind === 'envelope' ? emptyCells(request.spacings_m.length, request.speeds_kmh.length) : [];
  }

  private follow(id: string): void {
    this.unfollow = followJob(id, {
      progress: (state) => {
        if (this.id === id) this.state = state;
      },
      cell: (cell) => {
        if (this.id === id) this.gather(cell);
      },
      end: (state) => {
        if (this.id === id) void this.ended(id, state);
      },
      lost: () => {
        if (this.id === id && this.under_way) {
          this.forgotten = true;
          this.state = null;
        }
      },
    });
  }

  private async ended(id: string, state: JobState): Promise<void> {
    if (state.state === 'done' && this.result === null) {
      const outcome = await readJob<T>(id);
      if (this.id !== id) return;
      if (outcome.is === 'answer') this.result = outcome.answer.result ?? null;
      if (outcome.is === 'trouble') this.trouble = outcome.trouble;
    }
    this.state = state;
  }

  /** Cells come in bursts; they are shown together, once a frame. */
  private gather(cell: EnvelopeCell): void {
    this.pending.push(cell);
    if (this.gathering) return;
    this.gathering = true;
    requestAnimationFrame(() => {
      this.gathering = false;
      const cells = [...this.cells];
      for (const one of this.pending) {
        const column = cells[one.spacing];
        if (column) {
          cells[one.spacing] = column.map((before, i) => (i === one.speed ? one : before));
        }
      }
      this.pending = [];
      this.cells = cells;
    });
  }
}

export type RunWork = Work<SimulateRequest, SimulationResult>;
export type EnvelopeWork = Work<EnvelopeRequest, EnvelopeResult>;

/** Cells of a finished envelope, where the events of its cells were not seen. */
export function cellsOf(result: EnvelopeResult): EnvelopeCell[][] {
  return result.passes.map((column, spacing) =>
    column.map((passes, speed) => ({
      spacing,
      speed,
      passes,
      margin: result.margins[spacing]?.[speed] ?? 0,
      criterion: result.criteria_at[spacing]?.[speed] ?? '',
      at_first_sight: false,
    })),
  );
}
