/** What the engine's server takes and gives. Lengths in metres and chainages in kilometres, speeds
 *  in km/h, as the names of the fields say. */

export type Language = 'en' | 'de';

/** A file as the page holds it. `name` is its path relative to the library folder. */
export interface Text {
  name: string;
  text: string;
}

export interface Diagnostic {
  file: string;
  line: number;
  column: number;
  text: string;
}

export type FileKind =
  | 'train'
  | 'route'
  | 'conditions'
  | 'rule book'
  | 'contact line'
  | 'pantograph model'
  | 'stock';

export interface LibraryFile {
  path: string;
  kind: FileKind;
  id: string;
  name: string;
  invented: boolean;
}

export interface TypePantograph {
  number: number;
  type: string;
  name: string;
  from_cab1_m: number;
  head_width_mm: number;
  contact_strips: number;
  frame: 'single-arm' | 'diamond';
  /** Id of its mechanical model. */
  dynamic_model: string | null;
  systems: string[];
}

export interface VehicleType {
  stock: string;
  id: string;
  name: string;
  type: 'locomotive' | 'electric unit' | 'wagon group';
  length_m: number;
  highest_speed_kmh: number;
  pantographs: TypePantograph[];
}

export interface Library {
  folder: string;
  files: LibraryFile[];
  vehicle_types: VehicleType[];
}

export interface LibraryText {
  path: string;
  text: string;
  sha256: string;
}

export interface VehicleItem {
  vehicle: string;
  id: string;
  leading_cab: 1 | 2;
  dead_in_tow: boolean;
  defective_pantographs: number[];
  /** Ordered by the operator to stay down, to be up. */
  kept_down_pantographs: number[];
  kept_up_pantographs: number[];
  current: { system: string; running_a: number; standstill_a: number }[];
  [key: string]: unknown;
}

export type LoadNature = 'ordinary' | 'dangerous' | 'sensitive';

export interface LoadItem {
  load: string;
  nature: LoadNature;
  length_m?: number | null;
  wagons?: string | null;
  highest_speed_kmh?: number | null;
  [key: string]: unknown;
}

export type ConsistItem = VehicleItem | LoadItem;

export interface TrainModel {
  id: string;
  name: string;
  operated_by: string | null;
  invented: boolean;
  stock: string[];
  highest_speed_kmh: number | null;
  acceleration_ms2: number;
  braking_ms2: number;
  consist: ConsistItem[];
  high_voltage_lines: { vehicles: number[]; can_be_opened: boolean }[];
  consents: {
    reference: string;
    given_by: string;
    number: number;
    distance_m: number;
    speed_kmh: number;
    sections: string[];
  }[];
  release: {
    made_by: string | null;
    checked_by: string | null;
    released_by: string | null;
    holds_until: string | null;
  } | null;
  deviations: { what: string; by: string; reason: string }[];
  [key: string]: unknown;
}

export interface Finding {
  rule: string;
  strength:
    | 'forbidden'
    | 'consent needed'
    | 'last resort'
    | 'prescribed'
    | 'speed limit'
    | 'note';
  standing: string;
  text: string;
  source: string;
}

export type PlanAnswerWord = 'permitted' | 'consent needed' | 'no permitted configuration';

export interface PlannedSection {
  from_km: number;
  to_km: number;
  section: string | null;
  energy_supply: string | null;
  iced: boolean;
  reversed: boolean;
  lowered_for: string | null;
  answer: PlanAnswerWord;
  raised: string[];
  put_dead_in_tow: number[];
  speed_kmh: number;
  speed_rule: string;
  speed_reason: string;
  least_distance_m: number | null;
  findings: Finding[];
}

export interface Instruction {
  at_km: number;
  action: string;
  vehicle: number | null;
  pantographs: string[];
  speed_kmh: number | null;
  landmark: string;
  text: string;
  if_not_possible: string;
}

export interface RoadFailure {
  from_km: number;
  to_km: number;
  answer: PlanAnswerWord;
  raised: string[];
  put_dead_in_tow: number[];
  speed_kmh: number;
  reaches_km: number;
  stranded: boolean;
  text: string;
}

export interface Contingency {
  failed: string;
  answer: PlanAnswerWord;
  changes_the_plan: boolean;
  running_time_s: number;
  sections: PlannedSection[];
  on_the_road: RoadFailure[];
}

export interface PlanPantograph {
  name: string;
  number: number;
  from_front_m: number;
  half: 'front' | 'rear';
  defective: boolean;
  type_name: string;
  frame: 'single-arm' | 'diamond';
  knuckle: 'leading' | 'trailing' | null;
  contact_strips: number;
  head_width_mm: number;
  energy_supplies: string[];
}

export interface PlanVehicle {
  number: number;
  id: string;
  type: string;
  type_name: string;
  front_m: number;
  length_m: number;
  leading_cab: 1 | 2;
  dead_in_tow: boolean;
  pantographs: PlanPantograph[];
}

/** What `panup plan --format json` prints. */
export interface Plan {
  program_version: string;
  answer: PlanAnswerWord;
  train: {
    id: string;
    name: string;
    operated_by: string;
    invented: boolean;
    length_m: number;
    vehicles: PlanVehicle[];
    loads: { name: string; nature: LoadNature; front_m: number; length_m: number }[];
  };
  route: { id: string; name: string; invented: boolean; from_km: number; to_km: number };
  conditions: {
    name: string;
    invented: boolean;
    temperature_c: number | null;
    wind_ms: number | null;
    ice: { from_km: number; to_km: number }[];
  };
  rule_books: string[];
  speed_from: string;
  running_time_s: number;
  sections: PlannedSection[];
  instructions: Instruction[];
  contingencies: Contingency[];
  notes: string[];
  cautions: string[];
}

export interface RouteModel {
  id: string;
  name: string;
  invented: boolean;
  from_km: number;
  to_km: number;
  sections: {
    id: string;
    name: string;
    from_km: number;
    to_km: number;
    line_speed_kmh: number;
    energy_supply: string | null;
    design_type: string | null;
    contact_line: string;
    permitted_head_widths_mm: number[] | null;
  }[];
  separations: {
    name: string;
    kind: string;
    from_km: number;
    to_km: number;
    length_m: number;
    pantograph_lowered: boolean;
    breaker_off: boolean;
  }[];
  lowered: { name: string; from_km: number; to_km: number }[];
  low_places: { name: string; from_km: number; to_km: number; wire_height_min_m?: number }[];
  stops: { name: string; at_km: number; reversal: boolean }[];
  landmarks: { name: string; at_km: number; signal: boolean }[];
  gradients: { from_km: number; to_km: number; permille: number }[];
  section_insulators: { name: string; at_km: number; length_m: number }[];
  ice: { from_km: number; to_km: number }[];
}

/** A train's way through a separation section. Positions `from_m` and `to_m` of stages are the
 *  front's, of zones the wire's, both in metres from the section's beginning. */
export interface SeparationCourse {
  separation: number;
  section: number;
  zones: {
    name: string;
    kind: 'live' | 'neutral' | 'earthed' | 'insulator';
    from_m: number | null;
    to_m: number | null;
  }[];
  collectors: { pantograph: string; behind_front_m: number; strip_extent_m: number }[];
  joins: { name: string; collectors: number[]; can_be_opened: boolean; only_possible: boolean }[];
  stages: {
    from_m: number;
    to_m: number;
    touched: number[][];
    joined: { zones: number[]; collectors: number[] }[];
    forbidden: string[];
  }[];
  deciding_m: number | null;
  reserve_m: number | null;
  said: string;
}

export type Mark = { of?: string } & (
  | {
      is: 'line';
      points: [number, number][];
      closed: boolean;
      width: number;
      dash: number;
      white: boolean;
    }
  | { is: 'area'; points: [number, number][]; white: boolean; grey?: number }
  | { is: 'circle'; at: [number, number]; radius: number; width: number }
  | { is: 'disc'; at: [number, number]; radius: number; white: boolean }
  | { is: 'hatch'; boxes: [number, number, number, number][]; gap: number; width: number }
  | {
      is: 'text';
      at: [number, number];
      words: string;
      size: number;
      weight: 400 | 600 | 700;
      width: number;
      white: boolean;
      struck: boolean;
    }
);

/** A drawing of the engine, in points from its upper left corner. `told` says it in words. */
export interface Picture {
  width: number;
  height: number;
  told: string;
  points_per_m?: number | null;
  wire_y?: number | null;
  rail_y?: number | null;
  places?: { of: string; x: number; y: number; width: number; height: number }[] | null;
  marks: Mark[];
}

export interface PlanAnswer {
  plan: Plan;
  train: TrainModel;
  route: RouteModel;
  pictures: Picture[];
  section_pictures: number[];
  separations: SeparationCourse[];
}

export interface WhyAnswer {
  at_km: number;
  asked: string[];
  planned: string[];
  is_planned: boolean;
  answer: PlanAnswerWord;
  summary: string;
  speed_kmh: number;
  extra_time_s: number | null;
  findings: Finding[];
  cautions: string[];
}

export interface PlanQuestion {
  train: Text;
  route: Text;
  conditions: Text | null;
  rules: Text[];
  language: Language;
}

export type JobKind = 'simulate' | 'envelope' | 'plan';

export interface JobState {
  id: string;
  kind: JobKind;
  state: 'waiting' | 'running' | 'done' | 'failed' | 'cancelled';
  done: number;
  expected: number;
  error?: string;
}
