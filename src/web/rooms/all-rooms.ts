import { AimRoom } from './aim-room.ts';
import { BenchRoom } from './bench-room.ts';
import { DevicesRoom } from './devices-room.ts';
import { RightRoom } from './right-room.ts';
import type { Room } from './rooms.ts';
import { TestPiecesRoom } from './test-pieces-room.ts';
import { UnloadingRoom } from './unloading-room.ts';

/** Every page, in the order of the header. */
export const ROOMS: readonly Room[] = [
  { key: 'bench', name: 'Shape and fire', room: BenchRoom, onForm: true },
  { key: 'aim', name: 'Aim', room: AimRoom, onForm: true },
  { key: 'test-pieces', name: 'Test pieces', room: TestPiecesRoom, onForm: false },
  { key: 'unloading', name: 'Out of the kiln', room: UnloadingRoom, onForm: false },
  { key: 'right', name: 'How right were we', room: RightRoom, onForm: false },
  { key: 'devices', name: 'Other devices', room: DevicesRoom, onForm: false },
];

/** The room of an address, which may go on after a stroke; the bench where there is none such. */
export const roomOf = (address: string): Room =>
  ROOMS.find(({ key }) => key === address.split('/')[0]) ?? ROOMS[0];
