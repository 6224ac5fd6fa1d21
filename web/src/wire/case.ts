// What is to be computed: from the plan's section under the pointer, or as the user sets it.

import type { Library, LibraryFile, PlanAnswer } from '../engine/answers';
import type { EnergySupply, EnvelopeRequest, Knuckle, SimulateRequest } from './results';
import { valuesFrom } from './heat-map';

export interface ChosenPantograph {
  /** Path of its mechanical model; empty while none is known. */
  model: string;
  knuckle: Knuckle;
  /** To the one before it; 0 for the first. */
  distance_m: number;
  /** What it is in the train, such as `1.2`; empty where freely chosen. */
  name: string;
}

export interface Case {
  line: string;
  /** Empty: none is said. */
  system: EnergySupply | '';
  speed_kmh: number;
  pantographs: ChosenPantograph[];
  /** Null: the line's reference temperature. */
  temperature_c: number | null;
  ice_kg_per_m: number | null;
}

/** What the page could not find out and the user has to say. */
export type Missing =
  | { what: 'contact line'; id: string }
  | { what: 'pantograph model'; id: string }
  | { what: 'nothing raised' }
  | { what: 'ice' };

export const systems: readonly EnergySupply[] = ['AC 15 kV 16.7 Hz', 'AC 25 kV 50 Hz', 'DC 3 kV', 'DC 1.5 kV'];

export const systemNamed = (name: string): EnergySupply | '' => systems.find((system) => system === name) ?? '';

export const most_pantographs = 8;

function byId(library: Library, kind: LibraryFile['kind'], id: string): LibraryFile | undefined {
  return library.files.find(
    (file) => file.kind === kind && file.id.toLowerCase() === id.toLowerCase(),
  );
}

/** Distances from the front of the train, front first, as distances to the one before. */
function chain(places: readonly number[]): number[] {
  return places.map((place, i) => (i === 0 ? 0 : round(place - (places[i - 1] as number))));
}

function round(value: number): number {
  return Math.round(value * 1000) / 1000;
}

/** The case of section `index` of the plan, and what is missing to compute it. */
export function caseOfSection(
  answer: PlanAnswer,
  library: Library,
  index: number,
): { chosen: Case; missing: Missing[] } | null {
  const planned = answer.plan.sections[index];
  if (!planned) {
    return null;
  }
  const missing: Missing[] = [];
  const section = answer.route.sections.find((one) => one.id === planned.section);
  const line = section?.contact_line ? byId(library, 'contact line', section.contact_line) : undefined;
  if (!line) {
    missing.push({ what: 'contact line', id: section?.contact_line ?? '' });
  }
  // After a reversal the rear of the train runs ahead.
  const length = answer.plan.train.length_m;
  const raised = answer.plan.train.vehicles
    .flatMap((vehicle) => {
      const type = library.vehicle_types.find((one) => one.id === vehicle.type);
      return vehicle.pantographs.map((pantograph) => {
        const roof = type?.pantographs.find((one) => one.number === pantograph.number);
        return { pantograph, type: roof?.type ?? '', named: roof?.dynamic_model ?? '' };
      });
    })
    .filter(({ pantograph }) => planned.raised.includes(pantograph.name))
    .map(({ pantograph, type, named }) => ({
      name: pantograph.name,
      type,
      named,
      at: planned.reversed ? length - pantograph.from_front_m : pantograph.from_front_m,
      knuckle: knuckleOf(pantograph.knuckle, planned.reversed),
    }))
    .sort((a, b) => a.at - b.at);
  if (raised.length === 0) {
    missing.push({ what: 'nothing raised' });
  }
  if (planned.iced) {
    missing.push({ what: 'ice' });
  }
  const distances = chain(raised.map((one) => one.at));
  const unknown = new Set<string>();
  const pantographs = raised.map((one, i) => {
    const model = one.named ? byId(library, 'pantograph model', one.named) : undefined;
    if (!model) {
      unknown.add(one.type);
    }
    return {
      model: model?.path ?? '',
      knuckle: one.knuckle,
      distance_m: distances[i] as number,
      name: one.name,
    };
  });
  missing.push(...[...unknown].map((id) => ({ what: 'pantograph model' as const, id })));
  return {
    chosen: {
      line: line?.path ?? '',
      system: planned.energy_supply ?? '',
      speed_kmh: planned.speed_kmh,
      pantographs,
      temperature_c: answer.plan.conditions.temperature_c,
      ice_kg_per_m: null,
    },
    missing,
  };
}

/** A diamond pantograph has no knuckle that points one way: its model states both alike. */
function knuckleOf(stated: Knuckle | null, reversed: boolean): Knuckle {
  const knuckle = stated ?? 'leading';
  return !reversed ? knuckle : knuckle === 'leading' ? 'trailing' : 'leading';
}

export type Mistake = 'line' | 'model' | 'speed' | 'distance' | 'values' | 'many';

/** The job to ask for, or what is wrong with the case. */
export function simulateRequest(chosen: Case): { request: SimulateRequest } | { mistakes: Mistake[] } {
  const mistakes = mistakesOf(chosen);
  if (mistakes.length > 0) {
    return { mistakes };
  }
  let behind = 0;
  return {
    request: {
      kind: 'simulate',
      line: chosen.line,
      pantographs: chosen.pantographs.map((one) => {
        behind = round(behind + one.distance_m);
        return { model: one.model, knuckle: one.knuckle, behind_first_m: behind };
      }),
      system: chosen.system === '' ? null : chosen.system,
      speed_kmh: chosen.speed_kmh,
      temperature_c: chosen.temperature_c,
      ice_kg_per_m: chosen.ice_kg_per_m,
      wire_shapes: true,
    },
  };
}

function mistakesOf(chosen: Case): Mistake[] {
  const mistakes: Mistake[] = [];
  if (chosen.line === '') {
    mistakes.push('line');
  }
  if (chosen.pantographs.length === 0 || chosen.pantographs.some((one) => one.model === '')) {
    mistakes.push('model');
  }
  if (chosen.pantographs.length > most_pantographs) {
    mistakes.push('many');
  }
  if (!(chosen.speed_kmh > 0)) {
    mistakes.push('speed');
  }
  if (chosen.pantographs.some((one, i) => i > 0 && !(one.distance_m > 0))) {
    mistakes.push('distance');
  }
  return mistakes;
}

export interface Range {
  from: number;
  to: number;
  step: number;
}

export interface EnvelopeCase {
  line: string;
  pantograph: string;
  count: number;
  spacings: Range;
  speeds: Range;
  /** Empty: none is said. */
  system: EnergySupply | '';
  knuckle: Knuckle | 'both';
}

/** Cells beyond which a map would neither be seen nor be computed in a working day. */
export const most_cells = 4000;

export function envelopeRequest(
  chosen: EnvelopeCase,
): { request: EnvelopeRequest } | { mistakes: Mistake[] } {
  const alone = chosen.count === 1;
  const spacings_m = alone ? [0] : valuesFrom(chosen.spacings.from, chosen.spacings.to, chosen.spacings.step);
  const speeds_kmh = valuesFrom(chosen.speeds.from, chosen.speeds.to, chosen.speeds.step);
  const mistakes: Mistake[] = [];
  if (chosen.line === '') {
    mistakes.push('line');
  }
  if (chosen.pantograph === '') {
    mistakes.push('model');
  }
  if (
    spacings_m.length === 0 ||
    speeds_kmh.length === 0 ||
    (!alone && (spacings_m[0] ?? 0) <= 0) ||
    (speeds_kmh[0] ?? 0) <= 0
  ) {
    mistakes.push('values');
  } else if (spacings_m.length * speeds_kmh.length > most_cells) {
    mistakes.push('many');
  }
  return mistakes.length > 0
    ? { mistakes }
    : {
        request: {
          kind: 'envelope',
          line: chosen.line,
          pantograph: chosen.pantograph,
          count: chosen.count,
          spacings_m,
          speeds_kmh,
          system: chosen.system === '' ? null : chosen.system,
          knuckle: chosen.knuckle,
        },
      };
}

/** The run behind a cell of the envelope, in the direction of running that decided there; as long as
 *  that is not known, with the knuckle leading. */
export function caseOfCell(
  request: EnvelopeRequest,
  spacing: number,
  speed: number,
  worse: Knuckle | null,
): Case {
  const knuckle = request.knuckle === 'both' ? (worse ?? 'leading') : request.knuckle;
  return {
    line: request.line,
    system: request.system ?? '',
    speed_kmh: request.speeds_kmh[speed] as number,
    pantographs: Array.from({ length: request.count }, (_, i) => ({
      model: request.pantograph,
      knuckle,
      distance_m: i === 0 ? 0 : (request.spacings_m[spacing] as number),
      name: '',
    })),
    temperature_c: null,
    ice_kg_per_m: null,
  };
}

/**
 * The envelope of one cell that judges a run, where the engine can: all pantographs alike, evenly
 * apart, at the line's reference temperature and without ice. Null otherwise.
 */
export function judgingRequest(request: SimulateRequest): EnvelopeRequest | null {
  const first = request.pantographs[0];
  if (!first || request.temperature_c !== null || request.ice_kg_per_m !== null) {
    return null;
  }
  const gap = request.pantographs[1]?.behind_first_m ?? 0;
  const even = request.pantographs.every(
    (one, i) =>
      one.model === first.model &&
      one.knuckle === first.knuckle &&
      Math.abs(one.behind_first_m - i * gap) < 1e-3,
  );
  return even
    ? {
        kind: 'envelope',
        line: request.line,
        pantograph: first.model,
        count: request.pantographs.length,
        spacings_m: [gap],
        speeds_kmh: [request.speed_kmh],
        system: request.system,
        knuckle: first.knuckle,
      }
    : null;
}
