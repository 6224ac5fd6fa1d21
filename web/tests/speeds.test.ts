import { describe, expect, test } from 'vitest';
import type { JobState, PlannedSection, SpeedFrom } from '../src/engine/answers';
import { fromLink, linkOf } from '../src/state/link';
import { mayBeHandedOut, mechanicsOf, mechanicsSilent, speedFromNamed, speeds_from, type Asking } from '../src/state/speeds';
import { firstState, keptFrom, keptOf, reduce, type PageEvent, type State } from '../src/state/state';

const after = (state: State, ...events: PageEvent[]): State => events.reduce(reduce, state);
const opened = after(
  firstState('en', 'system'),
  { do: 'choose train', train: { name: 'trains/t.toml', text: 'kind = "train"', model: null } },
  { do: 'choose route', route: { name: 'routes/r.toml', text: 'kind = "route"' } },
);
const by_both = after(opened, { do: 'choose speeds', speed_from: 'both' });

const nothing: Asking = { state: null, trouble: null, forgotten: false };
const job = (state: JobState['state'], more: Partial<JobState> = {}): Asking => ({
  ...nothing,
  state: { id: '1', kind: 'plan', state, done: 12, expected: 80, ...more },
});

describe('what the speeds are asked of', () => {
  test('is the tables, until somebody says otherwise', () => {
    expect(firstState('en', 'system').document.speed_from).toBe('tables');
  });
  test('is a step that can be undone', () => {
    expect(by_both.document).toEqual({ ...opened.document, speed_from: 'both' });
    expect(after(by_both, { do: 'undo' }).document).toEqual(opened.document);
    expect(after(by_both, { do: 'undo' }, { do: 'redo' }).document.speed_from).toBe('both');
  });
  test('is no step where nothing changes', () => {
    expect(after(by_both, { do: 'choose speeds', speed_from: 'both' })).toBe(by_both);
  });
  test('stays with another train and another route', () => {
    const other = after(by_both, { do: 'choose train', train: { name: 'u.toml', text: 'u', model: null } }, { do: 'choose route', route: { name: 's.toml', text: 's' } });
    expect(other.document.speed_from).toBe('both');
  });
  test('goes with a draft and a link', async () => {
    for (const speed_from of speeds_from) {
      const kept = keptOf(after(opened, { do: 'choose speeds', speed_from }));
      expect((await fromLink(await linkOf(kept)))?.document.speed_from).toBe(speed_from);
      expect(keptFrom(JSON.parse(JSON.stringify(kept)))?.document.speed_from).toBe(speed_from);
    }
  });
  test('is the tables in drafts and links that do not say it, or say something else', () => {
    const { speed_from: _, ...before } = by_both.document;
    expect(keptFrom({ document: before })?.document.speed_from).toBe('tables');
    expect(keptFrom({ document: { ...before, speed_from: 'dice' } })?.document.speed_from).toBe('tables');
    expect(speedFromNamed(3)).toBe('tables');
  });
});

describe('card and report', () => {
  test('are handed out only where the plan on view goes by what was asked for', () => {
    for (const asked of speeds_from) {
      for (const shown of speeds_from) expect(mayBeHandedOut(asked, shown), `${asked}, ${shown}`).toBe(asked === shown);
    }
  });
});

describe('how it stands with the mechanics', () => {
  const by = (asking: Asking, asked: SpeedFrom = 'both', shown: SpeedFrom = 'tables') => mechanicsOf(asked, shown, asking);
  test('it is not asked where the tables are', () => {
    expect(by(nothing, 'tables')).toEqual({ is: 'not asked' });
    // A plan of before may still be on view.
    expect(by(job('running'), 'tables', 'both')).toEqual({ is: 'not asked' });
  });
  test('it has answered as soon as its plan is on view, and not before', () => {
    expect(by(job('done'), 'both', 'both')).toEqual({ is: 'answered' });
    expect(by(job('running'), 'both', 'mechanics').is).not.toBe('answered');
  });
  test('it is asked, or waits for its turn', () => {
    expect(by(nothing)).toEqual({ is: 'waiting' });
    expect(by(job('waiting'))).toEqual({ is: 'waiting' });
    expect(by(job('running'))).toEqual({ is: 'asked', done: 12, expected: 80 });
  });
  test('what was stopped, failed or is forgotten is not under way', () => {
    expect(by(job('cancelled'))).toEqual({ is: 'stopped' });
    expect(by(job('failed', { error: 'why' }))).toEqual({ is: 'failed', why: 'why' });
    expect(by({ ...nothing, forgotten: true })).toEqual({ is: 'forgotten' });
    expect(by({ ...nothing, trouble: { status: 429, error: 'too many', diagnostics: [] } })).toEqual({ is: 'failed', why: 'too many' });
    expect(by(job('done'))).toEqual({ is: 'failed', why: '' });
  });
  test('where it has no answer, a section has a finding that says so', () => {
    const section = (...texts: string[]) => ({ findings: texts.map((text) => ({ text })) }) as unknown as PlannedSection;
    expect(mechanicsSilent(section('By the mechanics 2 raised may run at 124 km/h.'))).toBe(false);
    expect(mechanicsSilent(section('One thing.', 'The mechanics has no answer: the wire is iced.'))).toBe(true);
  });
});
