/** Asks what the card says of the pantograph whose failure is looked at. */
import type { FailureAnswer, PartQuestion } from '../engine/answers';
import { askFailure, latestOnly, type Trouble } from '../engine/calls';

export class FailureWork {
  answer: FailureAnswer | null = $state.raw(null);
  trouble: Trouble | null = $state.raw(null);
  private readonly latest = latestOnly();

  /** An answer to something else is gone at once: it would mislead. */
  ask(question: PartQuestion | null, failed: string | null): void {
    this.answer = null;
    this.trouble = null;
    void this.latest((signal) => (question && failed ? askFailure({ ...question, failed }, signal) : Promise.resolve({ is: 'stale' as const }))).then((outcome) => {
      if (outcome.is === 'answer') this.answer = outcome.answer;
      if (outcome.is === 'trouble') this.trouble = outcome.trouble;
    });
  }
}
