/** Exercises for trainees: which places are asked about, and what an answer missed. Whether an answer is
 *  right is for the engine to say. */
import type { PlanAnswerWord, PlannedSection, WhyAnswer } from '../engine/answers';

/** Where a section is asked about: in its middle, away from what changes at its ends. */
export const askedAt = (section: PlannedSection): number => (section.from_km + section.to_km) / 2;

const lookOf = (section: PlannedSection): string =>
  section.lowered_for !== null ? 'lowered' : [section.energy_supply, section.iced, section.reversed, section.raised.join(' '), section.put_dead_in_tow.join(' ')].join('|');

/** Indices of the sections worth an exercise: each state of the train once. Where nothing is permitted there
 *  is nothing to raise. */
export function placesToAsk(sections: PlannedSection[]): number[] {
  const seen = new Set<string>();
  return sections.flatMap((section, index) => {
    if (section.answer === 'no permitted configuration' || seen.has(lookOf(section))) return [];
    seen.add(lookOf(section));
    return [index];
  });
}

/** Rules of practice by which the section is as it is. */
export const rulesOfPractice = (section: PlannedSection): string[] => [
  ...new Set(section.findings.filter((one) => one.standing === 'practice' && one.strength === 'prescribed' && one.kept === true).map((one) => one.rule)),
];

export interface Missed {
  /** Up in the plan, and not in the answer. */
  to_raise: string[];
  /** Up in the answer, and not in the plan. */
  to_lower: string[];
}

export const missedIn = (asked: string[], planned: string[]): Missed => ({
  to_raise: planned.filter((name) => !asked.includes(name)),
  to_lower: asked.filter((name) => !planned.includes(name)),
});

export type Verdict = 'as planned' | PlanAnswerWord;

/** Where nothing is permitted, to raise nothing is what the plan does. */
export const isAsPlanned = (why: Pick<WhyAnswer, 'is_planned' | 'asked' | 'planned'>): boolean => why.is_planned || (why.asked.length === 0 && why.planned.length === 0);

export const verdictOf = (why: Pick<WhyAnswer, 'is_planned' | 'asked' | 'planned' | 'answer'>): Verdict => (isAsPlanned(why) ? 'as planned' : why.answer);

/** A line of the result sheet. */
export interface Result {
  /** The case of working practice, with its number; empty where it is none. */
  of: string;
  /** Where what is expected of the case comes from. */
  source: string;
  train: string;
  invented: boolean;
  place: string;
  asked: string[];
  planned: string[];
  verdict: Verdict;
  /** Why it is not the plan's, in the engine's words. */
  summary: string;
  cautions: string[];
}

export const rightOf = (results: Result[]): number => results.filter((one) => one.verdict === 'as planned').length;
