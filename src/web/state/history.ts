/** What was, what is, and what was undone. `gesture` names the movement that last changed it. */
export interface History<T> {
  readonly past: readonly T[];
  readonly present: T;
  readonly future: readonly T[];
  readonly gesture?: string;
}

/** Far enough back for an afternoon, little enough to keep. */
const MOST = 200;

export const startHistory = <T>(present: T): History<T> => ({ past: [], present, future: [] });

/** A change; changes of one gesture (one drag, one held key) are undone together. */
export const change = <T>(history: History<T>, present: T, gesture?: string): History<T> => {
  if (present === history.present) return history;
  const same = gesture !== undefined && gesture === history.gesture;
  const past = same ? history.past : [...history.past, history.present].slice(-MOST);
  return { past, present, future: [], ...(gesture === undefined ? {} : { gesture }) };
};

export const endGesture = <T>({ past, present, future }: History<T>): History<T> => ({
  past,
  present,
  future,
});

export const undo = <T>({ past, present, future }: History<T>): History<T> =>
  past.length === 0
    ? { past, present, future }
    : { past: past.slice(0, -1), present: past.at(-1)!, future: [present, ...future] };

export const redo = <T>({ past, present, future }: History<T>): History<T> =>
  future.length === 0
    ? { past, present, future }
    : { past: [...past, present], present: future[0]!, future: future.slice(1) };
