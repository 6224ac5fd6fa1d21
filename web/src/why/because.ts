import type { Finding } from '../engine/answers';

/** Why there is the rule of a finding: in each list with the first thing that the rule says; else empty. */
export function becauseIn(findings: Finding[], finding: Finding): string {
  return findings.find((one) => one.rule === finding.rule) === finding ? finding.because : '';
}
