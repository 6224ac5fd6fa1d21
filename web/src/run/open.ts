/** Opens a run of the library, and the train that it names. */
import type { Text } from '../engine/answers';
import { readLibraryFile, readRun, type Trouble } from '../engine/calls';
import type { TrainDocument } from '../state/state';

export interface OpenedRun {
  run: Text;
  train: TrainDocument;
  /** SHA-256 by path of what the library holds. */
  held: Record<string, string>;
}

/** The train of a run that is at hand as a text. */
export async function withTrain(run: Text): Promise<OpenedRun | Trouble> {
  const head = await readRun(run);
  if (head.is === 'trouble') return head.trouble;
  if (head.is !== 'answer') return { status: 0, error: '', diagnostics: [] };
  const train = await readLibraryFile(head.answer.run.train_file);
  if (train.is === 'trouble') return train.trouble;
  if (train.is !== 'answer') return { status: 0, error: '', diagnostics: [] };
  const { path, text, sha256 } = train.answer;
  return { run, train: { name: path, text, model: null }, held: { [path]: sha256 } };
}

export async function openRun(path: string): Promise<OpenedRun | Trouble> {
  const file = await readLibraryFile(path);
  if (file.is === 'trouble') return file.trouble;
  if (file.is !== 'answer') return { status: 0, error: '', diagnostics: [] };
  const { text, sha256 } = file.answer;
  const opened = await withTrain({ name: path, text });
  return 'run' in opened ? { ...opened, held: { ...opened.held, [path]: sha256 } } : opened;
}
