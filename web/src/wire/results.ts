// What the mechanics hand to the page. Field names are those of `panup simulate --format json` and
// `panup envelope --format json`; the page shows them and judges nothing itself.

export type Knuckle = 'leading' | 'trailing';

export interface RaisedPantograph {
  /** Path of its mechanical model, relative to the library folder. */
  model: string;
  knuckle: Knuckle;
  behind_first_m: number;
}

export interface SimulateRequest {
  kind: 'simulate';
  line: string;
  pantographs: RaisedPantograph[];
  system: string | null;
  speed_kmh: number;
  temperature_c: number | null;
  ice_kg_per_m: number | null;
  wire_shapes: boolean;
}

export interface EnvelopeRequest {
  kind: 'envelope';
  line: string;
  pantograph: string;
  count: number;
  spacings_m: number[];
  speeds_kmh: number[];
  system: string | null;
  knuckle: Knuckle | 'both';
}

export interface PantographFigures {
  position_m: number;
  mean_n: number;
  std_n: number;
  statistical_max_n: number;
  statistical_min_n: number;
  max_n: number;
  min_n: number;
  contact_loss_percent: number;
  longest_contact_loss_ms: number;
  highest_head_mm: number;
  lowest_head_mm: number;
  model: string;
  model_name: string;
  invented: boolean;
  knuckle: Knuckle;
  static_force_n: number;
  aerodynamic_force_n: number;
}

export interface Simulation {
  line: { id: string; name: string; invented: boolean; spans: number; length_m: number };
  energy_supply: string | null;
  conditions: {
    temperature_c: number;
    ice_on_contact_wire_kg_per_m: number;
    ice_on_messenger_wire_kg_per_m: number;
  };
  speed_kmh: number;
  wave_speed_kmh: number;
  evaluated: { from_m: number; to_m: number };
  pantographs: PantographFigures[];
  max_support_uplift_mm: number;
  max_span_uplift_mm: number;
  support_uplifts: { at_m: number; uplift_mm: number }[];
  span_uplifts: { from_m: number; to_m: number; at_m: number; uplift_mm: number }[];
  droppers: { at_m: number; slack_ms: number; times: number; greatest_force_n: number }[];
  energy_error: number;
  warnings: string[];
  notes: string[];
  cautions: string[];
}

export interface PantographTrace {
  at_m: number[];
  filtered_force_n: number[];
  contact_force_n: number[];
}

export interface WireCourse {
  name: 'contact wire' | 'messenger wire';
  at_m: number[];
  /** Height at rest above the contact wire at its supports. */
  rest_m: number[];
  /** By time, then by place. */
  lift_mm: number[][];
}

export interface WireShapes {
  times_s: number[];
  wires: WireCourse[];
  /** By time, then by pantograph. */
  pantographs_at_m: number[][];
  head_height_m: number[][];
}

export interface SimulationResult {
  simulation: Simulation;
  trace: { pantographs: PantographTrace[] };
  supports_m: number[];
  droppers_m: number[];
  wire: WireShapes | null;
}

export interface EnvelopeResult {
  line: { id: string; name: string; source: string };
  pantograph: { id: string; name: string; source: string };
  invented: boolean;
  energy_supply: string | null;
  count: number;
  spacings_m: number[];
  speeds_kmh: number[];
  passes: boolean[][];
  margins: number[][];
  criteria_at: string[][];
  /** The worse direction of running, which decided. */
  knuckle_at: Knuckle[][];
  permitted_speed_kmh: number[];
  deciding_criterion: string[];
  deciding_text: string[];
  no_run: boolean[];
  published: { design_type: string; steps: { distance_m: number; speed_kmh: number }[] }[];
  published_source: string;
  criteria: string[];
  not_judged: string[];
  notes: string[];
  cautions: string[];
}

/** A cell of the envelope as soon as it is known; indices count distances and speeds from 0. */
export interface EnvelopeCell {
  spacing: number;
  speed: number;
  passes: boolean;
  margin: number;
  criterion: string;
}
