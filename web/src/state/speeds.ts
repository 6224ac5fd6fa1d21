/** What gives the speeds: what was asked for, what the plan on view goes by, and whether it may be
 *  handed out. */
import type { JobState, PlannedSection, SpeedFrom } from '../engine/answers';
import type { Trouble } from '../engine/calls';

export const speeds_from: readonly SpeedFrom[] = ['tables', 'mechanics', 'both'];

/** What an earlier draft or link does not say is by the tables. */
export const speedFromNamed = (name: unknown): SpeedFrom => speeds_from.find((one) => one === name) ?? 'tables';

/** How it stands with the mechanics. */
export type Mechanics =
  | { is: 'not asked' }
  | { is: 'waiting' }
  | { is: 'asked'; done: number; expected: number }
  | { is: 'answered' }
  | { is: 'stopped' }
  | { is: 'failed'; why: string }
  | { is: 'forgotten' };

/** The computation, as far as it is known. */
export interface Asking {
  state: JobState | null;
  trouble: Trouble | null;
  forgotten: boolean;
}

/** `asked`: what was asked for; `shown`: what the plan on view goes by. */
export function mechanicsOf(asked: SpeedFrom, shown: SpeedFrom, asking: Asking): Mechanics {
  if (asked === 'tables') return { is: 'not asked' };
  if (shown === asked) return { is: 'answered' };
  if (asking.trouble) return { is: 'failed', why: asking.trouble.error };
  if (asking.forgotten) return { is: 'forgotten' };
  switch (asking.state?.state) {
    case 'running':
      return { is: 'asked', done: asking.state.done, expected: asking.state.expected };
    case 'cancelled':
      return { is: 'stopped' };
    case 'failed':
    case 'done': // without a plan: it would be on view
      return { is: 'failed', why: asking.state.error ?? '' };
    default:
      return { is: 'waiting' };
  }
}

/** A card by the tables where the mechanics was asked for would be a wrong card, and so the other way. */
export const mayBeHandedOut = (asked: SpeedFrom, shown: SpeedFrom): boolean => asked === shown;

/** Whether the mechanics was asked about a section and has no answer there: then the tables stand. */
export const mechanicsSilent = (section: PlannedSection): boolean =>
  section.findings.some((one) => one.text.startsWith('The mechanics has no answer'));
