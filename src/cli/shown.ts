import type { Firing } from '../making/firing/firing.ts';

/** A firing as it is shown: what its setting is called, in words and in the name of a file. */
export interface Shown {
  readonly firing: Firing;
  readonly called: string;
  readonly file: string;
}
