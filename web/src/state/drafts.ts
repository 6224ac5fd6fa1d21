/** Drafts: what is being worked on, kept in the browser, one draft a tab. Two tabs never write the
 *  same draft: a tab holds its draft's lock while it is open. */
import { keptFrom, type Kept } from './state';

const prefix = 'panup.draft.';
const tab_key = 'panup.tab';

export interface DraftHead {
  id: string;
  saved: string; // ISO 8601
  title: string;
}

interface StoredDraft extends DraftHead {
  kept: Kept;
}

/** What of the browser drafts need; a map in tests. */
export interface Shelf {
  getItem(key: string): string | null;
  setItem(key: string, value: string): void;
  removeItem(key: string): void;
  key(index: number): string | null;
  readonly length: number;
}

export const newDraftId = (): string => crypto.randomUUID();

/** False where the browser's room is used up; then the draft before is still there. */
export function storeDraft(shelf: Shelf, id: string, title: string, kept: Kept, now: Date): boolean {
  const draft: StoredDraft = { id, saved: now.toISOString(), title, kept };
  try {
    shelf.setItem(prefix + id, JSON.stringify(draft));
    return true;
  } catch {
    return false;
  }
}

function parsed(text: string | null): StoredDraft | null {
  if (text === null) return null;
  try {
    const value = JSON.parse(text) as StoredDraft;
    return typeof value === 'object' && value !== null && typeof value.id === 'string' ? value : null;
  } catch {
    return null;
  }
}

export function readDraft(shelf: Shelf, id: string): Kept | null {
  const draft = parsed(shelf.getItem(prefix + id));
  return draft ? keptFrom(draft.kept) : null;
}

export const removeDraft = (shelf: Shelf, id: string): void => shelf.removeItem(prefix + id);

/** All drafts, the newest first. */
export function listDrafts(shelf: Shelf): DraftHead[] {
  const heads: DraftHead[] = [];
  for (let i = 0; i < shelf.length; ++i) {
    const key = shelf.key(i);
    if (!key?.startsWith(prefix)) continue;
    const draft = parsed(shelf.getItem(key));
    if (draft) heads.push({ id: draft.id, saved: String(draft.saved), title: String(draft.title) });
  }
  return heads.sort((a, b) => b.saved.localeCompare(a.saved));
}

/** Lets go of a draft, so that another tab may take it. */
export type Release = () => void;

/** Takes a draft for this tab until it lets go or closes; null where another tab has it. */
async function take(id: string): Promise<Release | null> {
  if (!('locks' in navigator)) return () => undefined;
  return new Promise((resolve) => {
    void navigator.locks.request(prefix + id, { ifAvailable: true }, (lock) => {
      if (lock === null) {
        resolve(null);
        return undefined;
      }
      return new Promise<void>((release) => resolve(release));
    });
  });
}

const pause = (ms: number): Promise<void> => new Promise((done) => setTimeout(done, ms));

/** The draft this tab goes on with, and a new name to write it under where the tab was copied:
 *  the other tab goes on with the old one. */
export async function takeTabDraft(
  shelf: Shelf,
  tab: Shelf,
): Promise<{ id: string; kept: Kept | null; release: Release | null }> {
  const before = tab.getItem(tab_key);
  if (before !== null) {
    // On a reload the page that was here may take a moment to let go.
    for (const wait of [0, 60, 200, 400]) {
      await pause(wait);
      const release = await take(before);
      if (release) return { id: before, kept: readDraft(shelf, before) ?? readDraft(tab, before), release };
    }
  }
  const id = newDraftId();
  const kept = before === null ? null : (readDraft(shelf, before) ?? readDraft(tab, before));
  const release = await take(id);
  tab.setItem(tab_key, id);
  return { id, kept, release };
}

/** Another draft for this tab; null where another tab has it. */
export async function changeTabDraft(tab: Shelf, id: string): Promise<Release | null> {
  const release = await take(id);
  if (release) tab.setItem(tab_key, id);
  return release;
}
