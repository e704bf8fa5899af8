import type { Entry } from './entry.ts';

/**
 * The ids of entries that are taken back. An entry is gone when one that counts takes it back; so undoing an undo brings
 * it back, and a correction of a correction keeps the first mistake away. An entry can only take back an earlier one,
 * so one pass from the last to the first decides.
 */
export const takenBack = (entries: readonly Entry[]): Set<number> => {
  const byId = new Map(entries.map((entry) => [entry.id, entry]));
  const gone = new Set<number>();
  for (const entry of entries.toSorted((a, b) => b.id - a.id)) {
    if (gone.has(entry.id)) continue;
    let link: Entry | undefined = entry;
    do {
      if (link.undoes !== undefined) gone.add(link.undoes);
      link = entry.kind === 'undone' ? undefined : byId.get(link.undoes ?? 0);
    } while (link !== undefined && link.kind !== 'undone');
  }
  return gone;
};

/**
 * The entries that count, in the order in which things happened: by their time, and at one time by the order of
 * writing, a correction in the place of what it corrects.
 */
export const standing = (entries: readonly Entry[]): Entry[] => {
  const byId = new Map(entries.map((entry) => [entry.id, entry]));
  const gone = takenBack(entries);
  const placeOf = (entry: Entry): number => {
    let at = entry;
    for (let before: Entry | undefined; (before = byId.get(at.undoes ?? 0)); ) at = before;
    return at.id;
  };
  return entries
    .filter(({ id, kind }) => !gone.has(id) && kind !== 'undone')
    .map((entry) => ({ entry, place: placeOf(entry) }))
    .sort((a, b) =>
      a.entry.at_utc === b.entry.at_utc ? a.place - b.place : a.entry.at_utc < b.entry.at_utc ? -1 : 1,
    )
    .map(({ entry }) => entry);
};
