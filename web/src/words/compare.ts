// Words of two plans side by side.

export const compare_en = {
  beside: 'Beside another plan',
  nothing: 'none',
  now: 'On view',
  no_consents: 'without the consents of the train',
  library: 'the train as the library has it',
  earlier: 'one handed out earlier (JSON)',
  no_plan: (name: string): string => `${name} is no plan. Expected is what panup plan --format json writes.`,
  not_comparable: 'That plan is of another route, or its vehicles stand otherwise: the two are not set side by side.',
  tables_only: 'The plan on view goes by the mechanics, the other by the tables: speeds may differ by that alone.',
  alike: 'Both say the same, at every place.',
  differ: (n: number): string => (n === 1 ? 'They differ on one stretch.' : `They differ on ${n} stretches.`),
  sign_differs: 'the two plans differ',
  speed_of: (name: string): string => `planned speed, ${name}`,
};

export type CompareWords = typeof compare_en;

export const compare_de: CompareWords = {
  beside: 'Neben einem anderen Plan',
  nothing: 'keiner',
  now: 'Gezeigt',
  no_consents: 'ohne die Zustimmungen des Zuges',
  library: 'der Zug, wie ihn die Bibliothek hat',
  earlier: 'ein früher ausgegebener (JSON)',
  no_plan: (name) => `${name} ist kein Plan. Erwartet wird, was panup plan --format json schreibt.`,
  not_comparable: 'Dieser Plan gilt für eine andere Strecke, oder seine Fahrzeuge stehen anders: Die beiden werden nicht verglichen.',
  tables_only: 'Der gezeigte Plan geht nach der Mechanik, der andere nach den Tabellen: Geschwindigkeiten können allein deshalb abweichen.',
  alike: 'Beide sagen an jedem Ort dasselbe.',
  differ: (n) => (n === 1 ? 'Sie unterscheiden sich auf einem Stück.' : `Sie unterscheiden sich auf ${n} Stücken.`),
  sign_differs: 'die beiden Pläne unterscheiden sich',
  speed_of: (name) => `geplante Geschwindigkeit, ${name}`,
};
