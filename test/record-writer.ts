import { writeSync } from 'node:fs';
import { undoEntry } from '../src/store/journal.ts';
import { keepPhoto } from '../src/store/photos.ts';
import { beginPiece } from '../src/store/pieces.ts';
import { openRecord } from '../src/store/record.ts';
import { chance, dice, whole } from './dice.ts';
import { ZONE } from './record-kit.ts';

/**
 * A program that writes a record until it is killed, and says on its output what was acknowledged: `e <uid>` for an
 * entry, `p <sha256>` for a photo. Arguments: the file, a seed, how many steps at most.
 */

const [, , path, seed, steps] = process.argv;
const say = (line: string): void => {
  writeSync(1, `${line}\n`);
};

/** A JPEG's first and last bytes round what differs. */
const photoOf = (between: (a: number, b: number) => number): Uint8Array => {
  const body = Uint8Array.from({ length: whole(between, 100, 200_000) }, (_, i) => (i * 31) & 0x7f);
  for (let i = 0; i < 16; i++) body[i] = whole(between, 0, 127);
  return Uint8Array.from([0xff, 0xd8, 0xff, 0xe0, ...body, 0xff, 0xd9]);
};

const main = (): void => {
  const between = dice(Number(seed));
  const record = openRecord(path, { make: true });
  say('open');
  for (let i = 0; i < Number(steps); i++) {
    const now = new Date(Date.UTC(2026, 0, 5) + i * 60_000).toISOString();
    const when = { at_utc: now, zone: ZONE };
    const uids = ['a', 'b', 'c'].map((letter) => `${seed}-${i}-writer-${letter}`);
    const { entries } = beginPiece(
      record.db,
      { ...when, number: `${seed}-${i}`, note: 'x'.repeat(whole(between, 0, 3000)), uid: uids[0] },
      now,
      [
        { ...when, kind: 'formed', data: { how: 'thrown' }, uid: uids[1] },
        { ...when, kind: 'drying', uid: uids[2] },
      ],
    );
    for (const uid of uids) say(`e ${uid}`);
    if (chance(between, 0.3)) undoEntry(record.db, entries[2].id, now, ZONE);
    if (chance(between, 0.1)) say(`p ${keepPhoto(record, photoOf(between), now).sha256}`);
  }
};

main();
