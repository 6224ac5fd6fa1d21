// A long computation on the server with one result, as the page sees it: under way, ended, or refused.

import type { DayOutcome, JobRequest, JobState } from './answers';
import { endJob, readJob, startJob, type Trouble } from './calls';
import { followJob, isUnderWay } from './jobs';

export class JobWork<T> {
  state: JobState | null = $state.raw(null);
  trouble: Trouble | null = $state.raw(null);
  /** The server has forgotten it, such as after it was started anew. */
  forgotten = $state(false);
  result: T | null = $state.raw(null);

  private id: string | null = null;
  private turn = 0;
  private unfollow: (() => void) | null = null;

  get under_way(): boolean {
    return isUnderWay(this.state);
  }

  /** From 0 to 1; null where it is not known. */
  get share(): number | null {
    return this.state && this.state.expected > 0 ? Math.min(this.state.done / this.state.expected, 1) : null;
  }

  async start(request: JobRequest, told: { train?: (train: DayOutcome) => void; done?: (result: T) => void } = {}): Promise<void> {
    const turn = ++this.turn;
    this.trouble = null;
    this.forgotten = false;
    this.result = null;
    await this.end();
    if (turn !== this.turn) return;
    const outcome = await startJob(request);
    if (turn !== this.turn) {
      if (outcome.is === 'answer') void endJob(outcome.answer.id);
      return;
    }
    if (outcome.is === 'trouble') this.trouble = outcome.trouble;
    if (outcome.is !== 'answer') return;
    const id = outcome.answer.id;
    this.id = id;
    this.state = { id, kind: request.kind, state: 'waiting', done: 0, expected: 0 };
    const mine = (): boolean => turn === this.turn;
    this.unfollow = followJob(id, {
      progress: (state) => {
        if (mine()) this.state = state;
      },
      train: (one) => {
        if (mine()) told.train?.(one);
      },
      end: (state) => {
        if (mine()) void this.ended(id, turn, state, told.done);
      },
      lost: () => {
        if (!mine() || !this.under_way) return;
        this.forgotten = true;
        this.state = null;
      },
    });
  }

  /** Ends it where it is under way. */
  async stop(): Promise<void> {
    if (!this.under_way) return;
    const { state } = this;
    ++this.turn;
    await this.end();
    if (state) this.state = { ...state, state: 'cancelled' };
  }

  /** Forgets it and what came of it. */
  clear(): void {
    ++this.turn;
    void this.end();
    this.trouble = null;
    this.forgotten = false;
    this.result = null;
  }

  private async end(): Promise<void> {
    const { id, under_way } = this;
    this.unfollow?.();
    this.unfollow = null;
    this.id = null;
    this.state = null;
    if (id === null) return;
    await endJob(id);
    // One that was cancelled is still known; nobody asks for it again.
    if (under_way) void endJob(id);
  }

  private async ended(id: string, turn: number, state: JobState, done?: (result: T) => void): Promise<void> {
    if (state.state === 'done') {
      const outcome = await readJob<T>(id);
      if (turn !== this.turn) return;
      if (outcome.is === 'answer') this.result = outcome.answer.result ?? null;
      if (outcome.is === 'trouble') this.trouble = outcome.trouble;
    }
    this.state = state;
    if (this.result !== null && state.state === 'done') done?.(this.result);
  }
}
