import type { Clay } from '../making/clay/clay.ts';
import type { Form } from '../making/form/form.ts';
import type { Schedule } from '../making/kiln/schedule.ts';
import { DEMO_ZONE, type DemoLoad, type DemoPiece, demoStudio } from '../making/record/demo/demo-studio.ts';
import { endFiring, lightFiring, openFiring, planFiring } from './firings.ts';
import { record } from './journal.ts';
import { keepPhoto } from './photos.ts';
import { beginPiece } from './pieces.ts';
import type { StudioRecord } from './record.ts';
import { keepSeries } from './series.ts';
import { changeSettings } from './settings.ts';
import { keepSheet } from './sheets.ts';

/** The invented studio, written into a record by the same functions as a real one. */

export interface DemoGiven {
  readonly name: string;
  readonly forms: Readonly<Record<string, Form>>;
  readonly clay: Clay;
  readonly schedule: Schedule;
  /** A picture of a form, to stand for photos; left out: none is photographed. */
  readonly picture?: (form: Form) => Promise<Uint8Array>;
}

const KILN = {
  name: 'Small electric kiln (invented)',
  chamber: { width_mm: 450, depth_mm: 450, height_mm: 600 },
};

interface Filling {
  readonly made: StudioRecord;
  readonly now_utc: string;
  readonly forms: ReadonlyMap<string, number>;
  readonly photos: ReadonlyMap<string, string>;
  readonly clay: number;
  readonly kiln: number;
  readonly schedule: number;
}

const zone = DEMO_ZONE;

const begin = ({ made: { db }, now_utc, forms, clay }: Filling, one: DemoPiece): number =>
  beginPiece(
    db,
    { at_utc: one.begun_utc, zone, number: one.number, form: forms.get(one.form)!, clay },
    now_utc,
    one.before.map((entry) => ({ ...entry, zone })),
  ).piece;

const writeLoad = (filling: Filling, load: DemoLoad): void => {
  const { made, now_utc, kiln, schedule, photos } = filling;
  const { db } = made;
  const { firing } = planFiring(
    db,
    { at_utc: load.planned_utc, zone, name: load.name, kiln, schedule },
    now_utc,
  );
  const pieces = load.pieces.map((one) => ({ one, piece: begin(filling, one) }));
  const inKiln = pieces.filter(({ one }) => one.set !== undefined);
  record(
    db,
    inKiln.map(({ one, piece }) => ({ ...one.set, zone, piece, firing })),
    now_utc,
  );
  if (load.lit_utc) lightFiring(db, firing, { at_utc: load.lit_utc, zone }, now_utc);
  if (load.off_utc) endFiring(db, firing, { at_utc: load.off_utc, zone }, now_utc);
  if (!load.opened_utc) return;
  const found = inKiln.flatMap(({ one, piece }) =>
    one.lost ? [{ piece, lost: one.lost.cause, note: one.lost.note }] : [],
  );
  openFiring(db, firing, { at_utc: load.opened_utc, zone }, found, now_utc);
  for (const { one, piece } of inKiln) {
    const photo = photos.get(one.form);
    const taken =
      one.photographed_utc && photo && !one.lost
        ? [
            {
              at_utc: one.photographed_utc,
              zone,
              piece,
              kind: 'photographed',
              data: { photo, shows: 'after the fire' },
            },
          ]
        : [];
    record(db, [...one.after.map((entry) => ({ ...entry, zone, piece })), ...taken], now_utc);
  }
};

/** Fills an empty record with the invented studio, as of now. */
export const fillDemo = async (
  made: StudioRecord,
  seed: number,
  now_utc: string,
  given: DemoGiven,
): Promise<void> => {
  const { db } = made;
  const studio = demoStudio(seed, now_utc, given);
  const photos = new Map<string, string>();
  for (const { key, form } of studio.forms)
    if (given.picture) photos.set(key, keepPhoto(made, await given.picture(form), now_utc).sha256);
  db.together(() => {
    changeSettings(db, {
      name: given.name,
      zone,
      invented: true,
      clay: 'usual',
      kiln: 'small',
      schedule: 'usual',
    });
    const first = studio.loads[0].planned_utc;
    const keep = (kind: 'clay' | 'kiln' | 'schedule', key: string, json: unknown): number =>
      keepSheet(db, { kind, key, json }, first, zone).id;
    const series = new Map(
      studio.series.map(({ key, name }) => [key, keepSeries(db, key, name, 'Invented.').id]),
    );
    const forms = new Map<string, number>();
    for (const { key, form, parent, series: family } of studio.forms) {
      const above = parent === undefined ? {} : { parent: forms.get(parent)! };
      forms.set(
        key,
        keepSheet(db, { kind: 'form', key, json: form, series: series.get(family)!, ...above }, first, zone)
          .id,
      );
    }
    const filling: Filling = {
      made,
      now_utc,
      forms,
      photos,
      clay: keep('clay', 'usual', given.clay),
      kiln: keep('kiln', 'small', KILN),
      schedule: keep('schedule', 'usual', given.schedule),
    };
    for (const load of studio.loads) writeLoad(filling, load);
    for (const one of studio.drying) begin(filling, one);
  });
};
