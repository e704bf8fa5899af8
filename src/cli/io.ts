/** What a command may touch of the terminal it runs in; a test hands in its own. */
export interface Io {
  readonly out: (text: string) => void;
  readonly err: (text: string) => void;
  /** Whether somebody watches stderr, so that a moving bar makes sense. */
  readonly watched: boolean;
  /** Set when the person pressed Ctrl-C. */
  readonly signal: AbortSignal;
}

/** The real terminal. The first Ctrl-C asks the running work to stop; a second one stops at once. */
export const terminal = (): Io => {
  const stop = new AbortController();
  process.once('SIGINT', () => stop.abort());
  return {
    out: (text) => process.stdout.write(text),
    err: (text) => process.stderr.write(text),
    watched: process.stderr.isTTY === true,
    signal: stop.signal,
  };
};
