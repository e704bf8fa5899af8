import { AimRoom } from './aim-room.ts';
import { BenchRoom } from './bench-room.ts';
import { DevicesRoom } from './devices-room.ts';
import { FamilyRoom } from './record/family-room.ts';
import { FiringRoom } from './record/firing-room.ts';
import { NewPieceRoom } from './record/new-piece-room.ts';
import { PieceRoom } from './record/piece-room.ts';
import { TodayRoom } from './record/today-room.ts';
import { RightRoom } from './right-room.ts';
import type { Room } from './rooms.ts';
import { TestPiecesRoom } from './test-pieces-room.ts';
import { UnloadingRoom } from './unloading-room.ts';

/** Every page, in the order of the header. */
export const ROOMS: readonly Room[] = [
  { key: 'today', name: 'Today', room: TodayRoom, onForm: false },
  { key: 'piece', name: 'Pieces', room: PieceRoom, onForm: false },
  { key: 'new-piece', name: 'New piece', room: NewPieceRoom, onForm: false, within: 'piece' },
  { key: 'firing', name: 'Firings', room: FiringRoom, onForm: false, within: 'today' },
  { key: 'family', name: 'Families', room: FamilyRoom, onForm: false },
  { key: 'bench', name: 'Shape and fire', room: BenchRoom, onForm: true },
  { key: 'aim', name: 'Aim', room: AimRoom, onForm: true },
  { key: 'test-pieces', name: 'Test pieces', room: TestPiecesRoom, onForm: false },
  { key: 'unloading', name: 'Out of the kiln', room: UnloadingRoom, onForm: false },
  { key: 'right', name: 'How right were we', room: RightRoom, onForm: false },
  { key: 'devices', name: 'Other devices', room: DevicesRoom, onForm: false },
];

/** The room of an address, which may go on after a stroke; the bench where there is none such. */
export const roomOf = (address: string): Room => {
  const find = (wanted: string | undefined) => ROOMS.find(({ key }) => key === wanted);
  return find(address.split('/')[0]) ?? find('bench')!;
};
