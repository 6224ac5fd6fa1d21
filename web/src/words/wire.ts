// Words of the wire's part. What the engine says comes from it and is not put into other words.

import type { Missing, Mistake } from '../wire/case';

export const wire_en = {
  title: 'The wire',
  lead: 'Contact force, uplift and the moving wire, by simulation on this machine.',
  by_section: 'The section under the pointer',
  free: 'A case of my own',
  none_under_pointer: 'There is no plan yet from which to take a section.',
  section_is: (name: string, from: string, to: string) => `${name}, km ${from} to ${to}`,
  line: 'Contact line',
  system: 'Energy supply system',
  no_system: 'not stated',
  speed: 'Speed',
  temperature: 'Temperature of the wires',
  reference: 'reference of the line',
  ice: 'Ice on each wire',
  pantographs: 'Raised pantographs, in the direction of travel',
  pantograph: 'Pantograph',
  model: 'Model',
  choose: 'choose …',
  knuckle: 'Knuckle',
  leading: 'leading',
  trailing: 'trailing',
  both: 'both, the worse counts',
  behind_previous: 'Behind the one before',
  first: 'the first',
  add: 'Add a pantograph behind',
  remove: (n: number) => `Take pantograph ${n} away`,
  compute: 'Simulate',
  stop: 'Stop',
  waiting: 'waiting for its turn',
  running: (share: string) => `computing, ${share} done`,
  running_unknown: 'computing',
  cancelled: 'Stopped. What was computed until then is shown.',
  cancelled_run: 'Stopped before it was done.',
  failed: 'It could not be computed.',
  forgotten: 'The program was started anew meanwhile and no longer knows this computation. Start it again.',
  unreached: 'The program on this machine does not answer. It may have been ended.',
  changed_since: 'The case was changed since. What is shown below is for the case named there.',
  missing: (missing: Missing): string => {
    switch (missing.what) {
      case 'contact line':
        return missing.id === ''
          ? 'The route names no contact line here; choose one.'
          : `The library holds no contact line “${missing.id}”; choose one.`;
      case 'pantograph model':
        return `The library holds no model of the pantograph type “${missing.id}”; choose one.`;
      case 'nothing raised':
        return 'No pantograph is up here: nothing touches the wire.';
      case 'ice':
        return 'The wire is iced here, but the conditions do not say how much ice hangs on it: state it in kg/m. Without it the run is for a wire without ice.';
    }
  },
  mistake: (mistake: Mistake): string => {
    switch (mistake) {
      case 'line':
        return 'Choose a contact line.';
      case 'model':
        return 'Choose a model for each pantograph.';
      case 'speed':
        return 'State a speed above 0 km/h.';
      case 'distance':
        return 'State a distance above 0 m between pantographs.';
      case 'values':
        return 'State distances and speeds above 0, each from less to more, with a step above 0.';
      case 'many':
        return 'That is more than can be computed: at most 8 pantographs, and 4000 cells of an envelope.';
    }
  },
  run_of: (line: string, speed: string) => `${line}, ${speed} km/h`,
  weather: (temperature: string, ice: string) => `wires at ${temperature} °C, ${ice}`,
  without_ice: 'no ice',
  with_ice: (mass: string) => `${mass} kg/m of ice on each wire`,
  wave_speed: (speed: string, share: string) =>
    `The contact wire’s wave speed is ${speed} km/h; the train runs at ${share} of it.`,
  warnings: 'Doubtful',
  notes: 'Notes',
  cautions: 'Cautions',
  moving_wire: 'The wire as the pantographs pass',
  moving_told: (at: string) => `Contact wire, messenger wire, droppers and pantographs. ${at}.`,
  travel: 'direction of travel',
  play: 'Play',
  pause: 'Pause',
  step_back: 'One step back',
  step_on: 'One step on',
  time: 'Time',
  rate: 'Pace',
  real_time: 'as it runs',
  slower: (n: number) => `${n} times slower`,
  heights: 'Heights enlarged',
  movement: 'Movement enlarged',
  times: (n: number) => `${n} times`,
  exaggerated: (heights: number, movement: number) =>
    `Heights are drawn ${heights} times larger than lengths, movement of the wire ${movement} times. Pantographs are not to scale.`,
  still: 'Your system asks for little motion: the wire moves on in steps of a second.',
  head_at: (name: string, at: string, lift: string) => `${name} at ${at} m, wire lifted ${lift} mm`,
  no_shapes: 'For this run no shapes of the wire were kept.',
  force: 'Contact force',
  force_axis: 'contact force, N',
  chainage_axis: 'along the line, m',
  filtered: 'low-pass filtered at 20 Hz',
  unfiltered: 'Show the unfiltered force as well',
  marks: 'Long marks below: supports; short marks: droppers. Black bars above: no contact.',
  from: 'From',
  to: 'to',
  whole: 'Evaluated stretch',
  mean: 'mean',
  sigma: 'σ',
  statistical_max: 'mean + 3 σ:',
  statistical_min: 'mean − 3 σ:',
  no_contact: 'no contact',
  value_at: (at: string, force: string) => `at ${at} m: ${force} N`,
  uplift: 'Uplift at the supports',
  uplift_axis: 'uplift, mm',
  uplift_told: (most: string, at: string) => `Greatest uplift at a support: ${most} mm, at ${at} m.`,
  span_uplift: (most: string) => `Greatest uplift within a span: ${most} mm.`,
  statistics: 'Figures over the evaluated stretch',
  evaluated: (from: string, to: string) => `from ${from} to ${to} m`,
  row_position: 'behind the first, m',
  row_mean: 'mean contact force, N',
  row_std: 'standard deviation σ, N',
  row_ratio: 'σ over the mean',
  row_smax: 'statistical maximum (mean + 3 σ), N',
  row_smin: 'statistical minimum (mean − 3 σ), N',
  row_max: 'greatest, N',
  row_min: 'least, N',
  row_loss: 'time without contact, %',
  row_longest: 'longest time without contact, ms',
  row_static: 'static force, N',
  row_aero: 'aerodynamic force, N',
  figure: 'Figure',
  judged: 'Held against the criteria in force',
  judged_passes: 'Every criterion in force is met.',
  judged_fails: 'Not every criterion in force is met.',
  speed_alone: 'This speed alone was looked at; lower speeds may fail.',
  permitted_unknown: 'Permitted speed not known yet.',
  permitted_none: 'No permitted speed: the lowest one looked at fails already.',
  permitted_speed: (speed: string) => `Permitted speed of this case by the mechanics: ${speed} km/h.`,
  permitted_so_far: (speed: string) => `Permitted by the mechanics up to ${speed} km/h; higher speeds were not looked at.`,
  beyond_permitted: 'this run is faster',
  decides: 'What decides',
  criteria: 'Criteria in force',
  not_judged: 'Not judged',
  cannot_judge:
    'The engine holds a run against the criteria where all pantographs are alike and evenly apart, at the line’s reference temperature and without ice. This one it does not judge; the figures above are no permission.',
  apart: 'Pantographs drawn apart',
  apart_lead:
    'Draw a pantograph along, or move it with the arrow keys: the speed that the mechanics permit follows.',
  apart_handle: (name: string) => `${name}, distance to the one before`,
  apart_there: (distance: string, speed: string, why: string) => `${distance} m: ${speed} km/h permitted by the mechanics; ${why}`,
  apart_about: (distance: string, speed: string, why: string) =>
    `${distance} m: about ${speed} km/h at first sight; ${why}`,
  apart_none: (distance: string, why: string) => `${distance} m: the lowest speed looked at fails already; ${why}`,
  apart_between: (distance: string, least: string, most: string) =>
    least === most
      ? `${distance} m: ${least} km/h on either side; being computed`
      : `${distance} m: between ${least} and ${most} km/h on either side; being computed`,
  apart_nothing: (distance: string) => `${distance} m: being computed`,
  apart_compute: 'Find the speed at this distance',
  apart_back: (distance: string) => `Back to ${distance} m`,
  apart_take: 'Take this distance into a case of my own',
  apart_axis: 'distance to the one before, m',
  apart_known: 'permitted by the mechanics',
  apart_sight: 'at first sight: only about right, bands may be missed',
  apart_told: (known: number, sight: number) =>
    `Speed over distance: ${known} permitted, ${sight} at first sight. A computed speed is no permission.`,
  envelope: 'The envelope',
  envelope_lead: 'Which speeds pass over the distance between raised pantographs, by the mechanics.',
  count: 'Raised pantographs',
  distances: 'Distance between one and the next',
  speeds: 'Speeds',
  step: 'step',
  compute_envelope: 'Compute the envelope',
  around_own: (distance: string, speed: string) => `Around the train: ${distance} m, ${speed} km/h`,
  own_point: 'this train',
  own_long: (distance: string, speed: string) => `this train: closest two ${distance} m apart, ${speed} km/h`,
  cells: (done: number, of: number) => `${done} of ${of} cells`,
  passes: 'passes',
  fails: 'fails',
  not_yet: 'not computed yet',
  sight: 'at first sight, only about right',
  first_sight: 'at first sight, and as the nearest cell',
  permitted: 'permitted speed',
  published: 'published steps',
  design_type: (type: string) => `design type ${type}`,
  distance_axis: 'distance between raised pantographs, m',
  speed_axis: 'speed, km/h',
  cell: 'One cell',
  cell_distance: 'Distance',
  cell_speed: 'Speed',
  cell_is: (distance: string, speed: string, says: string) => `${distance} m, ${speed} km/h: ${says}`,
  margin: (margin: string, criterion: string) => `margin ${margin} of the limit, by ${criterion}`,
  simulate_cell: 'Simulate this cell',
  envelope_told: (passing: number, failing: number, sight: number, missing: number) =>
    `Map of distances and speeds: ${passing} cells pass, ${failing} fail, ${sight} are known at first sight only, ${missing} are not computed.`,
  deeper: 'a deeper shade: more margin',
  save_svg: 'Save as SVG',
  save_png: 'Save as PNG',
  save_failed: 'The browser could not make a picture of it.',
  invented: 'Invented data: for demonstration, no real railway.',
  supported: 'A computed result supports a decision and replaces none; local rules come first.',
};

export type WireWords = typeof wire_en;

export const wire_de: WireWords = {
  title: 'Der Fahrdraht',
  lead: 'Kontaktkraft, Anhub und die bewegte Kette, auf diesem Rechner simuliert.',
  by_section: 'Der Abschnitt unter dem Zeiger',
  free: 'Ein eigener Fall',
  none_under_pointer: 'Es gibt noch keinen Plan, aus dem ein Abschnitt zu nehmen wäre.',
  section_is: (name, from, to) => `${name}, km ${from} bis ${to}`,
  line: 'Oberleitung',
  system: 'Stromsystem',
  no_system: 'nicht angegeben',
  speed: 'Geschwindigkeit',
  temperature: 'Temperatur der Drähte',
  reference: 'Bezugstemperatur',
  ice: 'Eis an jedem Draht',
  pantographs: 'Gehobene Stromabnehmer, in Fahrtrichtung',
  pantograph: 'Stromabnehmer',
  model: 'Modell',
  choose: 'wählen …',
  knuckle: 'Knie',
  leading: 'voraus',
  trailing: 'nachlaufend',
  both: 'beides, das schlechtere gilt',
  behind_previous: 'Hinter dem vorigen',
  first: 'der erste',
  add: 'Einen Stromabnehmer dahinter dazunehmen',
  remove: (n) => `Stromabnehmer ${n} wegnehmen`,
  compute: 'Simulieren',
  stop: 'Anhalten',
  waiting: 'wartet, bis es an der Reihe ist',
  running: (share) => `rechnet, ${share} fertig`,
  running_unknown: 'rechnet',
  cancelled: 'Angehalten. Gezeigt ist, was bis dahin gerechnet war.',
  cancelled_run: 'Angehalten, bevor es fertig war.',
  failed: 'Das ließ sich nicht rechnen.',
  forgotten: 'Das Programm wurde inzwischen neu gestartet und kennt diese Rechnung nicht mehr. Bitte neu beginnen.',
  unreached: 'Das Programm auf diesem Rechner antwortet nicht. Vielleicht wurde es beendet.',
  changed_since: 'Der Fall wurde seither geändert. Unten steht, was zu dem dort genannten Fall gehört.',
  missing: (missing) => {
    switch (missing.what) {
      case 'contact line':
        return missing.id === ''
          ? 'Die Strecke nennt hier keine Oberleitung; bitte eine wählen.'
          : `Die Bibliothek enthält keine Oberleitung „${missing.id}“; bitte eine wählen.`;
      case 'pantograph model':
        return `Die Bibliothek enthält kein Modell der Bauart „${missing.id}“; bitte eines wählen.`;
      case 'nothing raised':
        return 'Hier ist kein Stromabnehmer oben: nichts berührt den Fahrdraht.';
      case 'ice':
        return 'Der Fahrdraht ist hier vereist, aber die Bedingungen sagen nicht, wie viel Eis daran hängt: bitte in kg/m angeben. Ohne Angabe gilt der Lauf für eisfreie Drähte.';
    }
  },
  mistake: (mistake) => {
    switch (mistake) {
      case 'line':
        return 'Bitte eine Oberleitung wählen.';
      case 'model':
        return 'Bitte für jeden Stromabnehmer ein Modell wählen.';
      case 'speed':
        return 'Bitte eine Geschwindigkeit über 0 km/h angeben.';
      case 'distance':
        return 'Bitte zwischen Stromabnehmern einen Abstand über 0 m angeben.';
      case 'values':
        return 'Bitte Abstände und Geschwindigkeiten über 0 angeben, von klein nach groß, mit einem Schritt über 0.';
      case 'many':
        return 'Das ist mehr, als gerechnet werden kann: höchstens 8 Stromabnehmer und 4000 Felder.';
    }
  },
  run_of: (line, speed) => `${line}, ${speed} km/h`,
  weather: (temperature, ice) => `Drähte bei ${temperature} °C, ${ice}`,
  without_ice: 'ohne Eis',
  with_ice: (mass) => `${mass} kg/m Eis an jedem Draht`,
  wave_speed: (speed, share) =>
    `Die Wellenausbreitungsgeschwindigkeit des Fahrdrahts beträgt ${speed} km/h; der Zug fährt mit ${share} davon.`,
  warnings: 'Zweifelhaft',
  notes: 'Anmerkungen',
  cautions: 'Vorbehalte',
  moving_wire: 'Der Fahrdraht bei der Durchfahrt',
  moving_told: (at) => `Fahrdraht, Tragseil, Hänger und Stromabnehmer. ${at}.`,
  travel: 'Fahrtrichtung',
  play: 'Abspielen',
  pause: 'Pause',
  step_back: 'Einen Schritt zurück',
  step_on: 'Einen Schritt weiter',
  time: 'Zeit',
  rate: 'Tempo',
  real_time: 'wie es läuft',
  slower: (n) => `${n}-mal langsamer`,
  heights: 'Höhen vergrößert',
  movement: 'Bewegung vergrößert',
  times: (n) => `${n}-fach`,
  exaggerated: (heights, movement) =>
    `Höhen sind gegenüber Längen ${heights}-fach vergrößert, die Bewegung der Drähte ${movement}-fach. Stromabnehmer nicht maßstäblich.`,
  still: 'Ihr System wünscht wenig Bewegung: das Bild geht in Schritten von einer Sekunde weiter.',
  head_at: (name, at, lift) => `${name} bei ${at} m, Draht um ${lift} mm angehoben`,
  no_shapes: 'Zu diesem Lauf wurden keine Formen der Drähte aufgehoben.',
  force: 'Kontaktkraft',
  force_axis: 'Kontaktkraft, N',
  chainage_axis: 'entlang der Leitung, m',
  filtered: 'mit 20 Hz tiefpassgefiltert',
  unfiltered: 'Auch die ungefilterte Kraft zeigen',
  marks: 'Lange Striche unten: Stützpunkte; kurze: Hänger. Schwarze Balken oben: kein Kontakt.',
  from: 'Von',
  to: 'bis',
  whole: 'Ausgewertete Strecke',
  mean: 'Mittel',
  sigma: 'σ',
  statistical_max: 'Mittel + 3 σ:',
  statistical_min: 'Mittel − 3 σ:',
  no_contact: 'kein Kontakt',
  value_at: (at, force) => `bei ${at} m: ${force} N`,
  uplift: 'Anhub an den Stützpunkten',
  uplift_axis: 'Anhub, mm',
  uplift_told: (most, at) => `Größter Anhub an einem Stützpunkt: ${most} mm, bei ${at} m.`,
  span_uplift: (most) => `Größter Anhub im Feld: ${most} mm.`,
  statistics: 'Werte über die ausgewertete Strecke',
  evaluated: (from, to) => `von ${from} bis ${to} m`,
  row_position: 'hinter dem ersten, m',
  row_mean: 'mittlere Kontaktkraft, N',
  row_std: 'Standardabweichung σ, N',
  row_ratio: 'σ zu Mittel',
  row_smax: 'statistisches Maximum (Mittel + 3 σ), N',
  row_smin: 'statistisches Minimum (Mittel − 3 σ), N',
  row_max: 'größte, N',
  row_min: 'kleinste, N',
  row_loss: 'Zeit ohne Kontakt, %',
  row_longest: 'längste Zeit ohne Kontakt, ms',
  row_static: 'statische Kraft, N',
  row_aero: 'Auftriebskraft, N',
  figure: 'Größe',
  judged: 'Gegen die geltenden Kriterien gehalten',
  judged_passes: 'Jedes geltende Kriterium ist erfüllt.',
  judged_fails: 'Nicht jedes geltende Kriterium ist erfüllt.',
  speed_alone: 'Nur diese Geschwindigkeit wurde betrachtet; bei niedrigeren können Kriterien verletzt sein.',
  permitted_unknown: 'Die zulässige Geschwindigkeit ist noch nicht bekannt.',
  permitted_none: 'Keine zulässige Geschwindigkeit: Schon bei der niedrigsten betrachteten ist ein Kriterium verletzt.',
  permitted_speed: (speed) => `Zulässige Geschwindigkeit dieses Falls nach der Mechanik: ${speed} km/h.`,
  permitted_so_far: (speed) => `Nach der Mechanik zulässig bis ${speed} km/h; höhere Geschwindigkeiten wurden nicht betrachtet.`,
  beyond_permitted: 'dieser Lauf ist schneller',
  decides: 'Maßgebend',
  criteria: 'Geltende Kriterien',
  not_judged: 'Nicht beurteilt',
  cannot_judge:
    'Beurteilt wird ein Lauf, bei dem alle Stromabnehmer gleich und gleich weit voneinander entfernt sind, bei Bezugstemperatur und ohne Eis. Dieser wird nicht beurteilt; die Werte oben sind keine Erlaubnis.',
  apart: 'Stromabnehmer auseinandergezogen',
  apart_lead:
    'Einen Stromabnehmer ziehen oder mit den Pfeiltasten verschieben: die nach der Mechanik zulässige Geschwindigkeit folgt.',
  apart_handle: (name) => `${name}, Abstand zum vorigen`,
  apart_there: (distance, speed, why) => `${distance} m: nach der Mechanik ${speed} km/h zulässig; ${why}`,
  apart_about: (distance, speed, why) => `${distance} m: auf den ersten Blick etwa ${speed} km/h; ${why}`,
  apart_none: (distance, why) => `${distance} m: schon die niedrigste betrachtete Geschwindigkeit besteht nicht; ${why}`,
  apart_between: (distance, least, most) =>
    least === most
      ? `${distance} m: beiderseits ${least} km/h; wird gerechnet`
      : `${distance} m: beiderseits zwischen ${least} und ${most} km/h; wird gerechnet`,
  apart_nothing: (distance) => `${distance} m: wird gerechnet`,
  apart_compute: 'Geschwindigkeit bei diesem Abstand suchen',
  apart_back: (distance) => `Zurück auf ${distance} m`,
  apart_take: 'Diesen Abstand in einen eigenen Fall übernehmen',
  apart_axis: 'Abstand zum vorigen, m',
  apart_known: 'nach der Mechanik zulässig',
  apart_sight: 'auf den ersten Blick: nur ungefähr, schmale Bänder können fehlen',
  apart_told: (known, sight) =>
    `Geschwindigkeit über dem Abstand: ${known} zulässig, ${sight} auf den ersten Blick. Gerechnetes ist keine Erlaubnis.`,
  envelope: 'Das Kennfeld',
  envelope_lead: 'Welche Geschwindigkeiten je nach Abstand der gehobenen Stromabnehmer bestehen, nach der Mechanik.',
  count: 'Gehobene Stromabnehmer',
  distances: 'Abstand vom einen zum nächsten',
  speeds: 'Geschwindigkeiten',
  step: 'Schritt',
  compute_envelope: 'Kennfeld rechnen',
  around_own: (distance, speed) => `Um den Zug: ${distance} m, ${speed} km/h`,
  own_point: 'dieser Zug',
  own_long: (distance, speed) => `dieser Zug: die nächsten beiden ${distance} m voneinander, ${speed} km/h`,
  cells: (done, of) => `${done} von ${of} Feldern`,
  passes: 'besteht',
  fails: 'besteht nicht',
  not_yet: 'noch nicht gerechnet',
  sight: 'auf den ersten Blick, nur ungefähr',
  first_sight: 'auf den ersten Blick, und wie das nächste Feld',
  permitted: 'zulässige Geschwindigkeit',
  published: 'veröffentlichte Stufen',
  design_type: (type) => `Bauart ${type}`,
  distance_axis: 'Abstand der gehobenen Stromabnehmer, m',
  speed_axis: 'Geschwindigkeit, km/h',
  cell: 'Ein Feld',
  cell_distance: 'Abstand',
  cell_speed: 'Geschwindigkeit',
  cell_is: (distance, speed, says) => `${distance} m, ${speed} km/h: ${says}`,
  margin: (margin, criterion) => `Abstand zum Grenzwert ${margin}, nach ${criterion}`,
  simulate_cell: 'Dieses Feld simulieren',
  envelope_told: (passing, failing, sight, missing) =>
    `Abstände und Geschwindigkeiten: ${passing} Felder bestehen, ${failing} bestehen nicht, ${sight} sind nur auf den ersten Blick bekannt, ${missing} sind nicht gerechnet.`,
  deeper: 'dunkler: mehr Abstand zum Grenzwert',
  save_svg: 'Als SVG sichern',
  save_png: 'Als PNG sichern',
  save_failed: 'Der Browser konnte daraus kein Bild machen.',
  invented: 'Erfundene Daten: zur Vorführung, keine wirkliche Bahn.',
  supported: 'Ein gerechnetes Ergebnis stützt eine Entscheidung und ersetzt keine; örtliche Regeln gehen vor.',
};
