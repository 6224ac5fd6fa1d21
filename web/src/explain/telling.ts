// What of an answer is told to trainees.

import type { Finding, PlannedSection, PlanVehicle } from '../engine/answers';
import type { ExplainWords } from '../words/explain';

/** Where the raised pantographs are, as one would say it; after a reversal front and rear change. */
export function raisedWords(
  section: PlannedSection,
  vehicles: readonly PlanVehicle[],
  words: ExplainWords,
): { name: string; says: string }[] {
  return section.raised.flatMap((name) => {
    for (const vehicle of vehicles) {
      const pantograph = vehicle.pantographs.find((one) => one.name === name);
      if (!pantograph) continue;
      const front = (pantograph.half === 'front') !== section.reversed;
      // With more than two on a roof "front" and "rear" do not tell which.
      const says =
        vehicle.pantographs.length === 1
          ? words.only(vehicle.id)
          : vehicle.pantographs.length === 2
            ? (front ? words.front : words.rear)(vehicle.id)
            : vehicle.id;
      return [{ name, says }];
    }
    return [];
  });
}

const order: Finding['strength'][] = [
  'forbidden',
  'consent needed',
  'last resort',
  'prescribed',
  'speed limit',
  'note',
];

/** The findings that explain most, weightiest first, without saying twice why the train is so fast. */
export function tellingFindings(
  section: PlannedSection,
  most: number,
): { shown: Finding[]; further: number } {
  const said = new Set<string>();
  const sorted = [...section.findings]
    .sort((a, b) => order.indexOf(a.strength) - order.indexOf(b.strength))
    .filter((finding) => {
      const again = said.has(finding.text) || (finding.strength === 'speed limit' && finding.rule === section.speed_rule);
      said.add(finding.text);
      return !again;
    });
  return { shown: sorted.slice(0, most), further: Math.max(sorted.length - most, 0) };
}
