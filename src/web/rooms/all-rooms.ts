import { BenchRoom } from './bench-room.ts';
import { DevicesRoom } from './devices-room.ts';
import type { Room } from './rooms.ts';

/** Every page, in the order of the header. */
export const ROOMS: readonly Room[] = [
  { key: 'bench', name: 'Shape and fire', room: BenchRoom, onForm: true },
  { key: 'devices', name: 'Other devices', room: DevicesRoom, onForm: false },
];

/** The room of a key; the bench where there is none such. */
export const roomOf = (key: string): Room => ROOMS.find((room) => room.key === key) ?? ROOMS[0];
