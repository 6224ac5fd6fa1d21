import { describe, expect, it } from 'vitest';
import type { Library, PlanAnswer } from '../../src/engine/answers';
import {
  caseOfCell,
  caseOfSection,
  envelopeRequest,
  judgingRequest,
  simulateRequest,
  type Case,
  type EnvelopeCase,
} from '../../src/wire/case';

const library = {
  folder: 'library',
  files: [
    { path: 'lines/nv-100.toml', kind: 'contact line', id: 'NV-100', name: 'NV-100', invented: true },
    { path: 'pantographs/hr-1950.toml', kind: 'pantograph model', id: 'hr-1950', name: 'HR', invented: true },
  ],
  vehicle_types: [
    {
      stock: 'stock/vehicles.toml',
      id: 'k41',
      name: 'Class K41',
      type: 'locomotive',
      length_m: 19.4,
      highest_speed_kmh: 160,
      pantographs: [
        { number: 1, type: 'hr-1950', dynamic_model: 'hr-1950', from_cab1_m: 4.4 },
        { number: 2, type: 'hr-1950', dynamic_model: 'hr-1950', from_cab1_m: 15 },
      ],
    },
  ],
} as unknown as Library;

function answerWith(planned: object): PlanAnswer {
  return {
    plan: {
      train: {
        length_m: 427.6,
        vehicles: [
          {
            number: 1,
            type: 'k41',
            pantographs: [
              { name: '1.1', number: 1, from_front_m: 4.4, knuckle: 'trailing' },
              { name: '1.2', number: 2, from_front_m: 15, knuckle: 'leading' },
            ],
          },
          {
            number: 2,
            type: 'k41',
            pantographs: [
              { name: '2.1', number: 1, from_front_m: 34.4, knuckle: 'leading' },
              { name: '2.2', number: 2, from_front_m: 23.8, knuckle: 'trailing' },
            ],
          },
        ],
      },
      conditions: { temperature_c: null },
      sections: [
        {
          section: 'v1',
          raised: ['1.1', '2.2'],
          speed_kmh: 80,
          energy_supply: 'AC 15 kV 16.7 Hz',
          reversed: false,
          iced: false,
          ...planned,
        },
      ],
    },
    route: { sections: [{ id: 'v1', contact_line: 'nv-100' }] },
  } as unknown as PlanAnswer;
}

const chosen: Case = {
  line: 'lines/nv-100.toml',
  system: 'AC 15 kV 16.7 Hz',
  speed_kmh: 80,
  pantographs: [
    { model: 'pantographs/hr-1950.toml', knuckle: 'leading', distance_m: 0, name: '1.1' },
    { model: 'pantographs/hr-1950.toml', knuckle: 'leading', distance_m: 19.4, name: '2.2' },
    { model: 'pantographs/hr-1950.toml', knuckle: 'leading', distance_m: 19.4, name: '' },
  ],
  temperature_c: null,
  ice_kg_per_m: null,
};

describe('the case of a section', () => {
  it('takes line, models, distances, speed and system from plan, route and library', () => {
    const found = caseOfSection(answerWith({}), library, 0);
    expect(found?.missing).toEqual([]);
    expect(found?.chosen.line).toBe('lines/nv-100.toml');
    expect(found?.chosen.speed_kmh).toBe(80);
    expect(found?.chosen.pantographs.map((one) => [one.name, one.distance_m, one.knuckle])).toEqual([
      ['1.1', 0, 'trailing'],
      ['2.2', 19.4, 'trailing'],
    ]);
  });

  it('turns the order and the knuckles round after a reversal', () => {
    const found = caseOfSection(answerWith({ reversed: true }), library, 0);
    expect(found?.chosen.pantographs.map((one) => [one.name, one.distance_m, one.knuckle])).toEqual([
      ['2.2', 0, 'leading'],
      ['1.1', 19.4, 'leading'],
    ]);
  });

  it('says what it cannot find out and takes nothing in its place', () => {
    const bare = { ...library, files: [] };
    const found = caseOfSection(answerWith({ iced: true }), bare, 0);
    expect(found?.missing.map((one) => one.what)).toEqual(['contact line', 'ice', 'pantograph model']);
    expect(found?.chosen.line).toBe('');
    expect(simulateRequest(found!.chosen)).toEqual({ mistakes: ['line', 'model'] });
  });

  it('says so where nothing is raised', () => {
    const found = caseOfSection(answerWith({ raised: [], speed_kmh: 80 }), library, 0);
    expect(found?.missing).toEqual([{ what: 'nothing raised' }]);
  });
});

describe('the question for a run', () => {
  it('counts distances from the first pantograph', () => {
    const made = simulateRequest(chosen);
    expect('request' in made && made.request.pantographs.map((one) => one.behind_first_m)).toEqual([
      0, 19.4, 38.8,
    ]);
  });

  it('asks nothing that makes no sense', () => {
    expect(simulateRequest({ ...chosen, speed_kmh: 0, line: '' })).toEqual({ mistakes: ['line', 'speed'] });
  });
});

describe('the judgement of a run', () => {
  const request = (change: Partial<Case>) => {
    const made = simulateRequest({ ...chosen, ...change });
    if (!('request' in made)) throw new Error('no request');
    return made.request;
  };

  it('is asked of an envelope of that one cell', () => {
    expect(judgingRequest(request({}))).toMatchObject({
      count: 3,
      spacings_m: [19.4],
      speeds_kmh: [80],
      knuckle: 'leading',
    });
  });

  it('is not asked where the envelope would be of another case', () => {
    expect(judgingRequest(request({ ice_kg_per_m: 0.5 }))).toBeNull();
    expect(judgingRequest(request({ temperature_c: -10 }))).toBeNull();
    const uneven = chosen.pantographs.map((one, i) => (i === 2 ? { ...one, distance_m: 30 } : one));
    expect(judgingRequest(request({ pantographs: uneven }))).toBeNull();
    const mixed = chosen.pantographs.map((one, i) => ({ ...one, model: i === 1 ? 'other.toml' : one.model }));
    expect(judgingRequest(request({ pantographs: mixed }))).toBeNull();
  });
});

describe('the question for an envelope', () => {
  const wanted: EnvelopeCase = {
    line: 'lines/nv-100.toml',
    pantograph: 'pantographs/hr-1950.toml',
    count: 2,
    spacings: { from: 10, to: 30, step: 10 },
    speeds: { from: 60, to: 100, step: 20 },
    system: '',
    knuckle: 'both',
  };

  it('has one distance, 0, for one pantograph alone', () => {
    const made = envelopeRequest({ ...wanted, count: 1 });
    expect('request' in made && made.request.spacings_m).toEqual([0]);
  });

  it('is refused where it makes no sense or is too much', () => {
    expect(envelopeRequest({ ...wanted, spacings: { from: 0, to: 30, step: 10 } })).toEqual({
      mistakes: ['values'],
    });
    expect(envelopeRequest({ ...wanted, spacings: { from: 1, to: 900, step: 1 } , speeds: { from: 10, to: 100, step: 10 } })).toEqual({
      mistakes: ['many'],
    });
  });

  it('leads from a cell to its run', () => {
    const made = envelopeRequest(wanted);
    if (!('request' in made)) throw new Error('no request');
    const run = caseOfCell(made.request, 2, 1, 'trailing');
    expect(run.speed_kmh).toBe(80);
    expect(run.pantographs.map((one) => one.distance_m)).toEqual([0, 30]);
    expect(run.pantographs.every((one) => one.knuckle === 'trailing')).toBe(true);
    const asked = caseOfCell({ ...made.request, knuckle: 'leading' }, 2, 1, 'trailing');
    expect(asked.pantographs.every((one) => one.knuckle === 'leading')).toBe(true);
  });
});
