/** The page's state as a plain value, and what changes it. Nothing here knows of the browser. */
import type { Language, SpeedFrom, Text, TrainModel, TrainOfDay } from '../engine/answers';
import { speedFromNamed } from './speeds';

/** A train is held as text, as a model, or as both. An edit of one drops the other; the engine
 *  makes it anew, so that there is one reader and one writer of train files. */
export interface TrainDocument {
  name: string;
  text: string | null;
  model: TrainModel | null;
}

/** What undo and redo go over. */
export interface PageDocument {
  train: TrainDocument | null;
  route: Text | null;
  /** In the place of a route: it names the train, and where its vehicles change on the way. */
  run: Text | null;
  conditions: Text | null;
  /** Defects besides those of the train and of its day, as of what was met with on the road. */
  defects: Text | null;
  rules: Text[];
  /** The train of a day that this is: its number, date, vehicles, consents and defects are the
   *  day's. Null: it stands for itself. */
  of_day: TrainOfDay | null;
  /** What the speeds are asked of. */
  speed_from: SpeedFrom;
}

export type Part = 'day' | 'plan' | 'wire' | 'explain' | 'files';
export type Theme = 'system' | 'light' | 'dark';

/** Which of the document's texts is meant; `rule` by its place in `rules`. */
export type TextPlace =
  | { of: 'train' }
  | { of: 'route' }
  | { of: 'run' }
  | { of: 'conditions' }
  | { of: 'defects' }
  | { of: 'rule'; index: number };

export interface View {
  part: Part;
  /** Of a run: the part that is open, counted from 1. */
  run_part: number;
  /** Where the front of the train is. */
  at_km: number;
  /** Index into the consist of the item picked for a change. */
  picked: number | null;
  /** The configuration asked about, as names `V.P`; null: none. */
  asked: string[] | null;
  /** The pantograph whose failure is looked at. */
  failed: string | null;
  /** The text shown in the files part, and the line to show in it. */
  text: TextPlace;
  line: number | null;
}

export interface State {
  document: PageDocument;
  past: PageDocument[];
  future: PageDocument[];
  /** Steps of typing in one text are one step of undo; this names the text typed in last. */
  typing: string | null;
  view: View;
  language: Language;
  theme: Theme;
  /** SHA-256 by path of what the library held when a file was opened or saved last. */
  held: Record<string, string>;
}

export type PageEvent =
  | { do: 'open'; document: PageDocument; view?: Partial<View> }
  | { do: 'edit train'; model: TrainModel; picked?: number | null }
  | { do: 'edit text'; place: TextPlace; text: string }
  /** A text as a form writes it: a step of its own. */
  | { do: 'write text'; place: TextPlace; text: string }
  | { do: 'name train'; name: string }
  | { do: 'train read'; text: string; model: TrainModel }
  | { do: 'train written'; model: TrainModel; text: string }
  | { do: 'choose train'; train: TrainDocument }
  | { do: 'choose route'; route: Text }
  | { do: 'choose run'; run: Text; train: TrainDocument }
  | { do: 'choose conditions'; conditions: Text | null }
  | { do: 'choose defects'; defects: Text | null }
  | { do: 'choose rules'; rules: Text[] }
  | { do: 'choose speeds'; speed_from: SpeedFrom }
  | { do: 'leave day' }
  | { do: 'held'; path: string; sha256: string }
  | { do: 'show'; part: Part }
  | { do: 'show text'; place: TextPlace; line: number | null }
  | { do: 'go to'; at_km: number }
  | { do: 'open part'; run_part: number; at_km: number }
  | { do: 'pick'; picked: number | null }
  | { do: 'ask'; asked: string[] | null }
  | { do: 'fail'; failed: string | null }
  | { do: 'language'; language: Language }
  | { do: 'theme'; theme: Theme }
  | { do: 'undo' }
  | { do: 'redo' };

export type Dispatch = (event: PageEvent) => void;

export const longest_past = 300;

export const empty_document: PageDocument = { train: null, route: null, run: null, conditions: null, defects: null, rules: [], of_day: null, speed_from: 'tables' };

export const first_view: View = {
  part: 'plan',
  run_part: 1,
  at_km: 0,
  picked: null,
  asked: null,
  failed: null,
  text: { of: 'train' },
  line: null,
};

export function firstState(language: Language, theme: Theme): State {
  return {
    document: empty_document,
    past: [],
    future: [],
    typing: null,
    view: first_view,
    language,
    theme,
    held: {},
  };
}

/** A step that can be undone. What is asked and looked at belongs to the train before it. */
function stepped(state: State, document: PageDocument, view: Partial<View> = {}): State {
  return {
    ...state,
    past: [...state.past, state.document].slice(-longest_past),
    document,
    future: [],
    typing: null,
    view: { ...state.view, ...view },
  };
}

const placeKey = (place: TextPlace): string =>
  place.of === 'rule' ? `rule ${place.index}` : place.of;

function withText(document: PageDocument, place: TextPlace, text: string): PageDocument {
  switch (place.of) {
    case 'train':
      return document.train
        ? { ...document, train: { name: document.train.name, text, model: null } }
        : document;
    case 'route':
      return document.route ? { ...document, route: { ...document.route, text } } : document;
    case 'run':
      return document.run ? { ...document, run: { ...document.run, text } } : document;
    case 'conditions':
      return document.conditions
        ? { ...document, conditions: { ...document.conditions, text } }
        : document;
    case 'defects':
      return document.defects ? { ...document, defects: { ...document.defects, text } } : document;
    case 'rule':
      return {
        ...document,
        rules: document.rules.map((rule, i) => (i === place.index ? { ...rule, text } : rule)),
      };
  }
}

/** The text at a place as it stands; null where there is none, or where it is yet to be written. */
export function textAt(document: PageDocument, place: TextPlace): Text | null {
  switch (place.of) {
    case 'train':
      return document.train?.text != null
        ? { name: document.train.name, text: document.train.text }
        : null;
    case 'route':
      return document.route;
    case 'run':
      return document.run;
    case 'conditions':
      return document.conditions;
    case 'defects':
      return document.defects;
    case 'rule':
      return document.rules[place.index] ?? null;
  }
}

const train_left = { picked: null, asked: null, failed: null } as const;

export function reduce(state: State, event: PageEvent): State {
  const { document, view } = state;
  const seen = (change: Partial<View>): State => ({
    ...state,
    typing: null,
    view: { ...view, ...change },
  });
  switch (event.do) {
    case 'open':
      return stepped(state, event.document, { ...train_left, run_part: 1, at_km: 0, line: null, ...event.view });
    case 'edit train': {
      const name = document.train?.name ?? 'trains/new-train.toml';
      const picked = event.picked === undefined ? view.picked : event.picked;
      return stepped(
        state,
        { ...document, train: { name, text: null, model: event.model } },
        { picked, asked: null, failed: null },
      );
    }
    case 'edit text': {
      const next = withText(document, event.place, event.text);
      const key = placeKey(event.place);
      if (next === document) return state;
      // Typing goes on in one step until something else happens.
      return state.typing === key
        ? { ...state, document: next, future: [] }
        : { ...stepped(state, next), typing: key };
    }
    case 'write text': {
      const next = withText(document, event.place, event.text);
      return next === document ? state : stepped(state, next, { asked: null, failed: null });
    }
    case 'name train':
      return document.train
        ? stepped(state, { ...document, train: { ...document.train, name: event.name } })
        : state;
    case 'train read':
      return document.train && document.train.text === event.text
        ? { ...state, document: { ...document, train: { ...document.train, model: event.model } } }
        : state;
    case 'train written':
      return document.train && document.train.model === event.model
        ? { ...state, document: { ...document, train: { ...document.train, text: event.text } } }
        : state;
    case 'choose train':
      return stepped(state, { ...document, train: event.train, run: null, of_day: null }, { ...train_left, run_part: 1 });
    case 'choose route':
      return stepped(state, { ...document, route: event.route, run: null }, { run_part: 1, at_km: 0, asked: null });
    case 'choose run':
      return stepped(state, { ...document, train: event.train, route: null, run: event.run, of_day: null }, { ...train_left, run_part: 1, at_km: 0 });
    case 'choose conditions':
      return stepped(state, { ...document, conditions: event.conditions });
    case 'choose defects':
      return stepped(state, { ...document, defects: event.defects });
    case 'choose rules':
      return stepped(state, { ...document, rules: event.rules });
    case 'choose speeds':
      return event.speed_from === document.speed_from ? state : stepped(state, { ...document, speed_from: event.speed_from });
    case 'leave day':
      return stepped(state, { ...document, of_day: null });
    case 'held':
      return { ...state, held: { ...state.held, [event.path]: event.sha256 } };
    case 'show':
      return seen({ part: event.part });
    case 'show text':
      return seen({ part: 'files', text: event.place, line: event.line });
    case 'go to':
      return seen({ at_km: event.at_km });
    case 'open part':
      return seen({ ...train_left, run_part: event.run_part, at_km: event.at_km });
    case 'pick':
      return seen({ picked: event.picked });
    case 'ask':
      return seen({ asked: event.asked });
    case 'fail':
      return seen({ failed: event.failed });
    case 'language':
      return { ...state, language: event.language };
    case 'theme':
      return { ...state, theme: event.theme };
    case 'undo': {
      const before = state.past.at(-1);
      if (!before) return state;
      return {
        ...state,
        document: before,
        past: state.past.slice(0, -1),
        future: [document, ...state.future],
        typing: null,
        view: { ...view, ...train_left },
      };
    }
    case 'redo': {
      const after = state.future[0];
      if (!after) return state;
      return {
        ...state,
        document: after,
        past: [...state.past, document],
        future: state.future.slice(1),
        typing: null,
        view: { ...view, ...train_left },
      };
    }
  }
}

/** What a draft and a link hold of the state. */
export interface Kept {
  document: PageDocument;
  view: View;
  language: Language;
  held: Record<string, string>;
}

export const keptOf = (state: State): Kept => ({
  document: state.document,
  view: state.view,
  language: state.language,
  held: state.held,
});

const isRecord = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

const isText = (value: unknown): value is Text =>
  isRecord(value) && typeof value.name === 'string' && typeof value.text === 'string';

const isTrainOfDay = (value: unknown): value is TrainOfDay =>
  isRecord(value) && typeof value.file === 'string' && typeof value.number === 'string';

function trainFrom(value: unknown): TrainDocument | null {
  if (!isRecord(value) || typeof value.name !== 'string') return null;
  const text = typeof value.text === 'string' ? value.text : null;
  // A text says everything; a model from outside is taken only where there is no text, and the
  // engine checks it as it writes it.
  const model =
    text === null && isRecord(value.model) && Array.isArray(value.model.consist)
      ? (value.model as unknown as TrainModel)
      : null;
  return text === null && model === null ? null : { name: value.name, text, model };
}

/** A document as far as what is kept of it can be used. */
export function documentFrom(value: unknown): PageDocument {
  const document = isRecord(value) ? value : {};
  return {
    train: trainFrom(document.train),
    route: isText(document.route) ? document.route : null,
    run: isText(document.run) ? document.run : null,
    conditions: isText(document.conditions) ? document.conditions : null,
    defects: isText(document.defects) ? document.defects : null,
    rules: Array.isArray(document.rules) ? document.rules.filter(isText) : [],
    of_day: isTrainOfDay(document.of_day) ? { file: document.of_day.file, number: document.of_day.number } : null,
    speed_from: speedFromNamed(document.speed_from),
  };
}

/** What an earlier draft or somebody's link says, as far as it can be used; null: nothing in it. */
export function keptFrom(value: unknown): Kept | null {
  if (!isRecord(value) || !isRecord(value.document)) return null;
  const { document } = value;
  const view: Record<string, unknown> = isRecord(value.view) ? value.view : {};
  const parts: Part[] = ['day', 'plan', 'wire', 'explain', 'files'];
  const held: Record<string, string> = {};
  if (isRecord(value.held)) {
    for (const [path, sha256] of Object.entries(value.held)) {
      if (typeof sha256 === 'string') held[path] = sha256;
    }
  }
  const names = (list: unknown): string[] | null =>
    Array.isArray(list) ? list.filter((name): name is string => typeof name === 'string') : null;
  return {
    document: documentFrom(document),
    view: {
      ...first_view,
      part: parts.find((part) => part === view.part) ?? 'plan',
      run_part: Number.isInteger(view.run_part) && Number(view.run_part) > 0 ? Number(view.run_part) : 1,
      at_km: typeof view.at_km === 'number' && Number.isFinite(view.at_km) ? view.at_km : 0,
      asked: names(view.asked),
      failed: typeof view.failed === 'string' ? view.failed : null,
    },
    language: value.language === 'de' ? 'de' : 'en',
    held,
  };
}
