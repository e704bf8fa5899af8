import type { FunctionComponent } from 'preact';
import type { Session } from '../session.ts';

export interface RoomProps {
  readonly session: Session;
  /** Lets the film run. */
  readonly play: () => void;
}

/** One page of the studio: its key stands in the address after #, its name in the header. */
export interface Room {
  readonly key: string;
  readonly name: string;
  readonly room: FunctionComponent<RoomProps>;
  /** Whether it works on the form on the bench: then the header has that form, its file, and the way back. */
  readonly onForm: boolean;
  /** The page it is reached from and belongs to; the header has only that one. */
  readonly within?: string;
}
