import { h } from 'preact';
import type { Setting } from '../../../making/firing/setting.ts';
import { LOSS_CAUSES } from '../../../making/learning/unloading.ts';
import { ATTITUDES, type Attitude, type Studio } from '../../state/page.ts';
import { firstLean, standIn } from '../../state/stands.ts';
import { type DraftPiece, type LossCause, usualSetting } from '../../state/unloading-draft.ts';
import { silhouette } from './silhouette.ts';
import { Tiles } from './tiles.ts';

export const ATTITUDE_NAMES: Readonly<Record<Attitude, string>> = {
  upright: 'Upright',
  'rim down': 'Rim down',
  'on its side': 'On its side',
  leaning: 'Leaning',
};

const STANDS = 'stands';
const LOST: Readonly<Record<LossCause, string>> = {
  'fell over': 'Lost: fell over',
  'lip on the shelf': 'Lip on the shelf',
  'wall on wall': 'Wall on wall',
  stuck: 'Stuck',
  cracked: 'Cracked',
  other: 'Lost otherwise',
};

type Change = (part: Partial<DraftPiece>) => void;

/** How a piece of this form stands in an attitude: as the studio has it, else as one would first try it. */
const settingIn = (studio: Studio, form: string, attitude: Attitude): Setting => {
  const usual = usualSetting(studio, form);
  if (usual.attitude === attitude) return usual;
  const lean_deg = attitude === 'leaning' ? firstLean(studio.forms[form]) : 0;
  return {
    attitude,
    turn_deg: 0,
    shelf: 'slides',
    lean_deg,
    props: attitude === 'leaning' ? [...standIn(attitude, studio.forms[form])] : [],
  };
};

export const formTiles = (studio: Studio, piece: DraftPiece, change: Change, fixed: boolean) =>
  h(Tiles, {
    label: 'Form',
    field: 'piece.form',
    fixed,
    chosen: piece.form,
    tiles: Object.entries(studio.forms).map(([key, form]) => ({
      key,
      name: form.name,
      picture: silhouette(form, { attitude: 'upright', lean_deg: 0 }),
    })),
    choose: (form) => change({ form, setting: usualSetting(studio, form) }),
  });

export const settingTiles = (studio: Studio, piece: DraftPiece, change: Change, fixed: boolean) => {
  const form = studio.forms[piece.form];
  return h(Tiles, {
    label: 'How it stood',
    field: 'piece.setting',
    fixed,
    chosen: piece.setting.attitude,
    tiles: ATTITUDES.map((attitude) => {
      const { props, lean_deg } =
        attitude === piece.setting.attitude ? piece.setting : settingIn(studio, piece.form, attitude);
      return {
        key: attitude,
        name: `${ATTITUDE_NAMES[attitude]}${props.length > 0 ? ', on its props' : ''}`,
        picture: silhouette(form, { attitude, lean_deg }),
      };
    }),
    choose: (key) => change({ setting: settingIn(studio, piece.form, key as Attitude) }),
  });
};

export const becameTiles = (piece: DraftPiece, change: Change, fixed: boolean) =>
  h(Tiles, {
    label: 'What became of it',
    field: 'piece.loss',
    fixed,
    chosen: piece.loss?.cause ?? STANDS,
    tiles: [{ key: STANDS, name: 'It stands' }, ...LOSS_CAUSES.map((key) => ({ key, name: LOST[key] }))],
    choose: (key) => change({ loss: key === STANDS ? undefined : { cause: key as LossCause } }),
  });
