import { LOSS_CAUSES as AT_THE_FIRE } from '../learning/unloading.ts';

/**
 * What can happen to a piece or a firing, one table. From it follow the check on data (`entry.ts`), the check inside
 * the database (`src/store/entry-check.ts`), flags of the command line and inputs of a screen: a new field is one line
 * here and nothing elsewhere.
 */

/** The clay of a piece, as it is when it is weighed or measured. */
export const CLAY_STATES = ['wet', 'leather-hard', 'bone dry', 'fired'] as const;
export type ClayState = (typeof CLAY_STATES)[number];

/** What became of a piece that did not come through; the fire's own causes are those of an unloading. */
export const LOSS_CAUSES = [
  'cracked while drying',
  'warped while drying',
  'broke in handling',
  ...AT_THE_FIRE.filter((cause) => cause !== 'other'),
  'bloated',
  'not good enough',
  'other',
] as const;

export type Field =
  | {
      readonly type: 'number';
      readonly least: number;
      readonly most: number;
      readonly whole?: true;
      readonly says: string;
      readonly needed?: true;
    }
  | { readonly type: 'text'; readonly most: number; readonly says: string; readonly needed?: true }
  | { readonly type: 'choice'; readonly of: readonly string[]; readonly says: string; readonly needed?: true }
  /** A day, YYYY-MM-DD. */
  | { readonly type: 'day'; readonly says: string; readonly needed?: true }
  /** The id of a sheet of that kind in the record. */
  | {
      readonly type: 'sheet';
      readonly of: 'form' | 'clay' | 'kiln' | 'schedule';
      readonly says: string;
      readonly needed?: true;
    }
  /** SHA-256 of a photo in the record, in hexadecimal. */
  | { readonly type: 'photo'; readonly says: string; readonly needed?: true };

export interface Kind {
  /** In a sentence: "was weighed". */
  readonly says: string;
  readonly of: 'piece' | 'firing' | 'either';
  readonly fields: Readonly<Record<string, Field>>;
  /** The entry must name the firing it happened in. */
  readonly inFiring?: true;
  /** The entry makes no sense without the artist's words. */
  readonly noteNeeded?: true;
  /** At least one of the fields must be there. */
  readonly oneOf?: true;
  /** Said where the work meets it. */
  readonly caution?: string;
}

const DUST =
  'Silica dust scars lungs: work wet or under extraction, with a fitting respirator, and wipe up wet; local rules come first.';
const HEAT =
  'Heat, electricity or gas and carbon monoxide: air the room, keep the kiln maker’s distances and leave the wiring and gas to licensed people. The record switches nothing.';
const LIFTING = 'Shelves and full boxes are heavy: lift with two, or carry less at once.';

const mm = (says: string): Field => ({ type: 'number', least: 0.1, most: 3000, says: `${says}, mm` });
const hours: Field = { type: 'number', least: 0, most: 1000, says: 'hours of work' };
const price = (says: string): Field => ({
  type: 'number',
  least: 0,
  most: 100_000_000,
  whole: true,
  needed: true,
  says: `${says}, in the smallest unit of the currency (cents, pence; whole yen)`,
});
const currency: Field = { type: 'text', most: 3, needed: true, says: 'currency, three letters of ISO 4217' };
const place = (says: string): Field => ({ type: 'text', most: 120, needed: true, says });
const clayState: Field = { type: 'choice', of: CLAY_STATES, needed: true, says: 'how the clay was then' };

export const KINDS = {
  begun: {
    says: 'was begun',
    of: 'piece',
    fields: {
      number: { type: 'text', most: 40, needed: true, says: 'the number on the piece' },
      title: { type: 'text', most: 120, says: 'a name, if it has one' },
      form: { type: 'sheet', of: 'form', says: 'which version of which form' },
      clay: { type: 'sheet', of: 'clay', says: 'which clay' },
    },
  },
  formed: {
    says: 'was formed',
    of: 'piece',
    fields: {
      how: { type: 'choice', of: ['thrown', 'thrown in parts', 'thrown and altered', 'built'], says: 'how' },
      clay_g: { type: 'number', least: 1, most: 50_000, says: 'clay taken, g' },
      hours,
    },
  },
  weighed: {
    says: 'was weighed',
    of: 'piece',
    fields: {
      clay: clayState,
      weight_g: { type: 'number', least: 0.1, most: 100_000, needed: true, says: 'weight, g' },
    },
  },
  measured: {
    says: 'was measured',
    of: 'piece',
    fields: {
      clay: clayState,
      height_mm: mm('height'),
      widest_mm: mm('greatest width'),
      lip_mm: mm('width of the lip'),
      foot_mm: mm('width of the foot'),
      wall_mm: mm('thickness of the wall'),
      sag_mm: {
        type: 'number',
        least: -1000,
        most: 1000,
        says: 'how far the lip came down beyond shrinkage, mm',
      },
    },
    oneOf: true,
  },
  carved: {
    says: 'was carved',
    of: 'piece',
    fields: {
      how: {
        type: 'choice',
        of: ['carved', 'fluted', 'pierced', 'faceted', 'trimmed', 'joined'],
        says: 'what was done',
      },
      hours,
    },
    caution: DUST,
  },
  drying: {
    says: 'stands drying',
    of: 'piece',
    fields: {
      cover: { type: 'choice', of: ['open', 'loosely covered', 'wrapped'], says: 'how it is covered' },
      place: { type: 'text', most: 120, says: 'where it stands' },
    },
  },
  dry: { says: 'is bone dry', of: 'piece', fields: {} },
  set: {
    says: 'was set in the kiln',
    of: 'piece',
    inFiring: true,
    fields: {
      shelf: { type: 'number', least: 1, most: 60, whole: true, says: 'which shelf, counted from below' },
      spot: { type: 'text', most: 60, says: 'where on the shelf' },
      attitude: {
        type: 'choice',
        of: ['upright', 'rim down', 'on its side', 'leaning'],
        says: 'how it stands',
      },
      props: { type: 'text', most: 200, says: 'what it stands on' },
    },
    caution: LIFTING,
  },
  unset: { says: 'was taken out before the fire', of: 'piece', fields: {} },
  fired: { says: 'was fired', of: 'piece', inFiring: true, fields: {} },
  unloaded: {
    says: 'came out of the kiln',
    of: 'piece',
    inFiring: true,
    fields: { came: { type: 'choice', of: ['as wanted', 'with a flaw'], says: 'how it came out' } },
  },
  photographed: {
    says: 'was photographed',
    of: 'either',
    fields: {
      photo: { type: 'photo', needed: true, says: 'which photo' },
      shows: { type: 'choice', of: ['before the fire', 'after the fire', 'a detail'], says: 'what it shows' },
    },
  },
  finished: {
    says: 'was finished',
    of: 'piece',
    fields: {
      how: { type: 'choice', of: ['as it came', 'sanded', 'polished', 'gilded', 'mended'], says: 'how' },
      gold_g: { type: 'number', least: 0, most: 1000, says: 'gold used, g' },
      hours,
    },
    caution: DUST,
  },
  priced: { says: 'was priced', of: 'piece', fields: { price_minor: price('asked'), currency } },
  promised: {
    says: 'was promised',
    of: 'piece',
    fields: {
      to: place('to whom'),
      by: { type: 'day', needed: true, says: 'by which day' },
    },
  },
  packed: {
    says: 'was packed',
    of: 'piece',
    fields: {
      box: place('which box'),
      weight_g: { type: 'number', least: 1, most: 200_000, says: 'weight with its box, g' },
    },
    caution: LIFTING,
  },
  shown: {
    says: 'is being shown',
    of: 'piece',
    fields: { place: place('where'), until: { type: 'day', says: 'until which day' } },
  },
  consigned: {
    says: 'is on consignment',
    of: 'piece',
    fields: {
      place: place('with whom'),
      share_percent: { type: 'number', least: 0, most: 100, says: 'what they keep of the price, %' },
      until: { type: 'day', says: 'until which day' },
    },
  },
  sold: {
    says: 'was sold',
    of: 'piece',
    fields: {
      price_minor: price('paid'),
      currency,
      to: { type: 'text', most: 120, says: 'to whom' },
      through: { type: 'text', most: 120, says: 'through whom' },
    },
  },
  returned: {
    says: 'came back',
    of: 'piece',
    fields: { place: { type: 'text', most: 120, says: 'where it is now' } },
  },
  lost: {
    says: 'was lost',
    of: 'piece',
    fields: { cause: { type: 'choice', of: LOSS_CAUSES, needed: true, says: 'what happened' } },
  },
  moved: { says: 'was moved', of: 'piece', fields: { place: place('where to') } },
  noted: { says: 'has a note', of: 'either', fields: {}, noteNeeded: true },
  planned: {
    says: 'was planned',
    of: 'firing',
    fields: {
      name: { type: 'text', most: 60, needed: true, says: 'what the firing is called' },
      kiln: { type: 'sheet', of: 'kiln', says: 'which kiln' },
      schedule: { type: 'sheet', of: 'schedule', says: 'which schedule' },
      on: { type: 'day', says: 'on which day' },
    },
  },
  lit: { says: 'was started', of: 'firing', fields: {}, caution: HEAT },
  read: {
    says: 'was read',
    of: 'firing',
    fields: {
      temperature_C: {
        type: 'number',
        least: -50,
        most: 1600,
        needed: true,
        says: 'what the thermometer says, °C',
      },
    },
  },
  off: { says: 'was switched off', of: 'firing', fields: {}, caution: HEAT },
  opened: { says: 'was opened', of: 'firing', fields: {}, caution: HEAT },
  'called off': { says: 'was called off', of: 'firing', fields: {} },
  undone: { says: 'takes an entry back', of: 'either', fields: {} },
} as const satisfies Readonly<Record<string, Kind>>;

export type KindName = keyof typeof KINDS;
export const KIND_NAMES = Object.keys(KINDS) as KindName[];

/** The row of a kind, read as the table's own type rather than as the one literal. */
export const kindOf = (name: KindName): Kind => KINDS[name];
