import type { Finding } from '../engine/answers';

/** The strength, but of what is prescribed whether it is so: a key of the words for it. */
export const labelOf = (finding: Pick<Finding, 'strength' | 'kept'>): string =>
  finding.strength !== 'prescribed' || finding.kept === null ? finding.strength : finding.kept ? 'as prescribed' : 'not as prescribed';

/** Why there is the rule of a finding: in each list with the first thing that the rule says; else empty. */
export function becauseIn(findings: Finding[], finding: Finding): string {
  return findings.find((one) => one.rule === finding.rule) === finding ? finding.because : '';
}
