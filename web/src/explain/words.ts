// Words of the view for trainees.

import type { Finding, Language, PlannedSection, PlanVehicle } from '../engine/answers';

const english = {
  view: 'The train along its route, for explaining',
  keys: 'Arrow keys: along the route. Escape: back.',
  place: (n: number, of: number) => `${n} of ${of}`,
  stretch: (from: string, to: string) => `km ${from} to ${to}`,
  up: 'Up',
  down: 'All pantographs down',
  down_for: (name: string) => `All pantographs down: ${name}`,
  nothing_permitted: 'No pantograph may be up here: the train may not run.',
  consent: 'Only with the consent of the infrastructure manager.',
  front: (vehicle: string) => `the front one of ${vehicle}`,
  rear: (vehicle: string) => `the rear one of ${vehicle}`,
  only: (vehicle: string) => `the only one of ${vehicle}`,
  no_more_than: 'at most',
  kmh: 'km/h',
  stand: 'may not run',
  why: 'Why',
  orders: 'Here the driver',
  iced: 'Ice on the contact wire',
  dead: (vehicles: string) => `Dead in tow: vehicle ${vehicles}`,
  further: (n: number) => (n === 1 ? 'One more in the plan.' : `${n} more in the plan.`),
  no_plan: 'There is no plan to explain yet.',
  invented: 'Invented data',
  old: 'Drawn before the last change.',
};

export type ExplainWords = typeof english;

const german: ExplainWords = {
  view: 'Der Zug auf seiner Strecke, zum Erklären',
  keys: 'Pfeiltasten: die Strecke entlang. Escape: zurück.',
  place: (n, of) => `${n} von ${of}`,
  stretch: (from, to) => `km ${from} bis ${to}`,
  up: 'Gehoben',
  down: 'Alle Stromabnehmer gesenkt',
  down_for: (name) => `Alle Stromabnehmer gesenkt: ${name}`,
  nothing_permitted: 'Hier darf kein Stromabnehmer gehoben sein: Der Zug darf nicht fahren.',
  consent: 'Nur mit Zustimmung des Infrastrukturbetreibers.',
  front: (vehicle) => `der vordere von ${vehicle}`,
  rear: (vehicle) => `der hintere von ${vehicle}`,
  only: (vehicle) => `der einzige von ${vehicle}`,
  no_more_than: 'höchstens',
  kmh: 'km/h',
  stand: 'darf nicht fahren',
  why: 'Warum',
  orders: 'Hier der Lokführer',
  iced: 'Eis am Fahrdraht',
  dead: (vehicles) => `Kalt geschleppt: Fahrzeug ${vehicles}`,
  further: (n) => (n === 1 ? 'Einer mehr im Plan.' : `${n} mehr im Plan.`),
  no_plan: 'Es gibt noch keinen Plan zu erklären.',
  invented: 'Erfundene Daten',
  old: 'Gezeichnet vor der letzten Änderung.',
};

export const explainWords = (language: Language): ExplainWords =>
  language === 'de' ? german : english;

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
