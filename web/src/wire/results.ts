// What the mechanics take from the page and hand to it; the page shows it and judges nothing itself.

import type { components } from '../engine/interface';

type Schemas = components['schemas'];

export type EnergySupply = Schemas['energy_supply'];

/** The page leaves nothing unsaid, and names a line by its file. */
/** A case as it is asked about; the language goes with it when it is sent. */
type Asked<R> = Omit<Required<R>, 'language'> & { line: string };
export type SimulateRequest = Asked<Schemas['SimulateRequest']>;
export type EnvelopeRequest = Asked<Schemas['EnvelopeRequest']>;
export type SpeedCurveRequest = Asked<Schemas['SpeedCurveRequest']>;
export type SpeedCurvePoint = Schemas['SpeedCurvePoint'];
export type RaisedPantograph = SimulateRequest['pantographs'][number];
export type Knuckle = RaisedPantograph['knuckle'];

export type SimulationResult = Schemas['SimulateResult'];
export type Simulation = SimulationResult['simulation'];
export type PantographFigures = Simulation['pantographs'][number];
export type PantographTrace = SimulationResult['trace']['pantographs'][number];
export type WireShapes = Schemas['WireShapes'];
export type WireCourse = WireShapes['wires'][number];

export type EnvelopeResult = Schemas['envelope.schema'];
/** A cell of the envelope as soon as it is known; indices count distances and speeds from 0. */
export type EnvelopeCell = Schemas['Cell'];
