import { h } from 'preact';
import { roomOf } from '../rooms/all-rooms.ts';
import type { RoomProps } from '../rooms/rooms.ts';
import { Header } from './header.ts';

/** The whole page from the one state. */
export const App = ({ session, play }: RoomProps) => {
  const { room } = session.page();
  return [
    h(Header, { key: 'header', session }),
    h(roomOf(room).room, { key: `room-${room}`, session, play }),
  ];
};
