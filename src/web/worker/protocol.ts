import type { ErrorCode, Fault } from '../../error.ts';
import type { FiringInput } from '../../making/firing/firing.ts';
import type { Compared } from './compare.ts';
import type { Film, Seen } from './film.ts';

/** What may be worked out of a piece: its firing, or what its flutes do to it. */
export type What = 'fire' | 'compare';

/** What the page asks of a worker. */
export type Ask =
  | { readonly kind: What; readonly id: number; readonly input: FiringInput }
  | { readonly kind: 'stop'; readonly id: number };

/** What a worker says back; `id` is the one it was asked with. */
export type Told =
  | { readonly kind: 'progress'; readonly id: number; readonly fraction: number; readonly note: string }
  | { readonly kind: 'done'; readonly id: number; readonly film: Film; readonly took_ms: number }
  | { readonly kind: 'compared'; readonly id: number; readonly compared: Compared }
  | { readonly kind: 'stopped'; readonly id: number }
  | {
      readonly kind: 'failed';
      readonly id: number;
      readonly code: ErrorCode;
      readonly message: string;
      readonly faults: readonly Fault[];
      /** The piece as it was set, where it could not stay so. */
      readonly stood?: Seen | undefined;
    };
