/** Questions to the engine's server. Nothing here throws for a bad answer: what went wrong is a
 *  value. */
import type {
  CaseQuestion,
  CaseWhyQuestion,
  Day,
  Diagnostic,
  IssueAnswer,
  IssuedAnswer,
  FailureAnswer,
  FailureQuestion,
  FormAnswer,
  FormQuestion,
  Forms,
  IssueQuestion,
  JobRequest,
  JobState,
  Language,
  Library,
  LibraryText,
  ModelQuestion,
  PartQuestion,
  PlanAnswer,
  PracticeCases,
  RefusedTrain,
  RunAnswer,
  RunHead,
  TakeInQuestion,
  TakenIn,
  Text,
  TrainModel,
  WhyAnswer,
  WhyQuestion,
  WrittenFile,
} from './answers';

/** What went wrong. Status 0: the server was not reached. */
export interface Trouble {
  status: number;
  error: string;
  diagnostics: Diagnostic[];
  /** Trains that are refused a card. */
  trains?: RefusedTrain[];
}

export type Outcome<T> =
  | { is: 'answer'; answer: T }
  | { is: 'trouble'; trouble: Trouble }
  | { is: 'stale' };

async function troubleOf(response: Response): Promise<Trouble> {
  const trouble: Trouble = { status: response.status, error: response.statusText, diagnostics: [] };
  try {
    const body = (await response.json()) as { error?: unknown; diagnostics?: unknown; trains?: unknown };
    if (typeof body.error === 'string' && body.error) trouble.error = body.error;
    if (Array.isArray(body.diagnostics)) trouble.diagnostics = body.diagnostics as Diagnostic[];
    if (Array.isArray(body.trains)) trouble.trains = body.trains as RefusedTrain[];
  } catch {
    // An answer without a JSON body keeps the words of its status.
  }
  return trouble;
}

async function ask<T>(
  path: string,
  request: RequestInit,
  read: (response: Response) => Promise<T>,
): Promise<Outcome<T>> {
  try {
    const response = await fetch(path, request);
    if (!response.ok) return { is: 'trouble', trouble: await troubleOf(response) };
    return { is: 'answer', answer: await read(response) };
  } catch (fault) {
    if (fault instanceof DOMException && fault.name === 'AbortError') return { is: 'stale' };
    const error = fault instanceof Error ? fault.message : String(fault);
    return { is: 'trouble', trouble: { status: 0, error, diagnostics: [] } };
  }
}

const askJson = <T>(path: string, request: RequestInit): Promise<Outcome<T>> =>
  ask(path, request, (response) => response.json() as Promise<T>);

function send(method: 'POST' | 'PUT', body: unknown, signal?: AbortSignal): RequestInit {
  return {
    method,
    headers: { 'Content-Type': 'application/json' },
    body: JSON.stringify(body),
    ...(signal ? { signal } : {}),
  };
}

const get = (signal?: AbortSignal): RequestInit => (signal ? { signal } : {});

export const readLibrary = (): Promise<Outcome<Library>> => askJson('/api/library', get());

export const readLibraryFile = (path: string): Promise<Outcome<LibraryText>> =>
  askJson(`/api/library/file?path=${encodeURIComponent(path)}`, get());

/** A day of the library, not planned. */
export const readDay = (path: string): Promise<Outcome<Day>> =>
  askJson(`/api/day?path=${encodeURIComponent(path)}`, get());

/** How the cards of a day of the library stand. */
export const readIssued = (day: string, language: Language): Promise<Outcome<IssuedAnswer>> =>
  askJson('/api/issued', send('POST', { day, language }));

/** Issues all the cards or, with status 422 and the trains that are refused, none. */
export const issueCards = (question: IssueQuestion): Promise<Outcome<IssueAnswer>> =>
  askJson('/api/issue', send('POST', question));

/** `replaces`: the SHA-256 of the text that it replaces, null for a new file. Status 409 where the
 *  file is another one by now. Without a text the file goes. */
export const writeLibraryFile = (
  path: string,
  text: string | null,
  replaces: string | null,
): Promise<Outcome<WrittenFile>> =>
  askJson('/api/library/file', send('PUT', { path, text, replaces }));

/** What files from elsewhere would make of a file of the library; nothing is written. */
export const takeIn = (question: TakeInQuestion): Promise<Outcome<TakenIn>> => askJson('/api/take-in', send('POST', question));

/** The keys of every kind of file that a form writes. */
export const readForms = (): Promise<Outcome<Forms>> => askJson('/api/forms', get());

/** A text with changes made to it, and what is wrong with it then; nothing is written. */
export const changeByForm = (question: FormQuestion): Promise<Outcome<FormAnswer>> => askJson('/api/form', send('POST', question));

export const readTrain = (train: Text, signal?: AbortSignal): Promise<Outcome<{ train: TrainModel }>> =>
  askJson('/api/train/read', send('POST', { train }, signal));

export const writeTrain = (
  train: TrainModel,
  name: string,
  signal?: AbortSignal,
): Promise<Outcome<{ text: string }>> =>
  askJson('/api/train/write', send('POST', { train, name }, signal));

/** What a run names: the train among it. */
export const readRun = (run: Text): Promise<Outcome<{ run: RunHead }>> => askJson('/api/run/read', send('POST', { run }));

export const makePlan = (question: ModelQuestion, signal?: AbortSignal): Promise<Outcome<PlanAnswer | RunAnswer>> =>
  askJson('/api/plan', send('POST', question, signal));

/** What speaks for or against `asked` (names `V.P`) being up at a chainage. */
export const askWhy = (
  question: WhyQuestion,
  signal?: AbortSignal,
): Promise<Outcome<WhyAnswer>> => askJson('/api/why', send('POST', question, signal));

/** The cases of working practice, in order. */
export const readCases = (): Promise<Outcome<PracticeCases>> => askJson('/api/practice', get());

/** The plan of one of them. */
export const planCase = (question: CaseQuestion): Promise<Outcome<PlanAnswer>> =>
  askJson('/api/practice/plan', send('POST', question));

/** As `askWhy`, of a case. */
export const askWhyOfCase = (question: CaseWhyQuestion): Promise<Outcome<WhyAnswer>> =>
  askJson('/api/practice/why', send('POST', question));

/** What the card says of a pantograph (name `V.P`) that fails. */
export const askFailure = (question: FailureQuestion, signal?: AbortSignal): Promise<Outcome<FailureAnswer>> =>
  askJson('/api/failure', send('POST', question, signal));

/** Of a run, `card` has all parts; the others are of one part. */
export type Handout = 'card' | 'part card' | 'report' | 'report/html';

/** What is asked where that is to be made. */
export const askedFor = (what: Handout, question: PartQuestion): PartQuestion => (what === 'card' ? { ...question, part: null } : question);

export const handOut = (what: Handout, question: PartQuestion): Promise<Outcome<Blob>> =>
  ask(`/api/${what === 'part card' ? 'card' : what}`, send('POST', askedFor(what, question)), (response) => response.blob());

export const startJob = (job: JobRequest): Promise<Outcome<{ id: string }>> =>
  askJson('/api/jobs', send('POST', job));

export const readJob = <T>(id: string): Promise<Outcome<JobState & { result?: T }>> =>
  askJson(`/api/jobs/${encodeURIComponent(id)}`, get());

export const endJob = (id: string): Promise<Outcome<null>> =>
  // A page that is left asks it too.
  ask(`/api/jobs/${encodeURIComponent(id)}`, { method: 'DELETE', keepalive: true }, () => Promise.resolve(null));

/** Keeps only the last of a run of questions: each new one calls off the one before. */
export function latestOnly(): <T>(run: (signal: AbortSignal) => Promise<Outcome<T>>) => Promise<Outcome<T>> {
  let current: AbortController | null = null;
  return async (run) => {
    current?.abort();
    const mine = new AbortController();
    current = mine;
    const outcome = await run(mine.signal);
    return mine.signal.aborted ? { is: 'stale' } : outcome;
  };
}
