/** The answer of a plan, or of all parts of a run, in a few words: with everything that it was bought with. */
import type { PlanAnswer, PlanAnswerWord } from '../engine/answers';
import { listed, type Words } from '../words/words';

type Part = Pick<PlanAnswer, 'plan' | 'consents_used'>;

export const headlineWord = (answer: PlanAnswerWord, words: Words): string =>
  answer === 'permitted' ? words.permitted : answer === 'consent needed' ? words.consent_needed : words.none_permitted;

export function headlineOf(whole: PlanAnswerWord, parts: Part[], words: Words): string {
  if (whole === 'no permitted configuration') return headlineWord(whole, words);
  const consents = [...new Set(parts.flatMap((part) => part.consents_used.map((one) => one.reference)))];
  const resort = parts.some(({ plan }) => plan.last_resort_accepted);
  return [
    headlineWord(whole, words),
    ...(consents.length > 0 ? [words.with_consent(listed(words, consents))] : []),
    ...(resort ? [words.last_resort_accepted] : []),
  ].join(', ');
}

/** Where the answer is other than a plain yes: of no the first place, then of a consent that is needed, then
 *  of a last resort. `part` counts from 1. */
export function whereToLook(whole: PlanAnswerWord, parts: Part[]): { part: number; km: number } | null {
  for (const [index, { plan }] of parts.entries()) {
    const place = plan.sections.find((one) =>
      whole === 'permitted' ? one.findings.some((finding) => finding.strength === 'last resort') : one.answer === whole,
    );
    if (place) return { part: index + 1, km: place.from_km };
  }
  return null;
}
