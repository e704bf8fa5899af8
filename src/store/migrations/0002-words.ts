/** Words to search by: pieces, firings and sheets, one line each. `rowid` is four times the id plus the sort. */
export const WORDS = `
CREATE VIRTUAL TABLE words USING fts5 (
  number, title, form, series, place, months, outcome, notes,
  tokenize = 'unicode61 remove_diacritics 2',
  prefix = '2 3'
);
`;
