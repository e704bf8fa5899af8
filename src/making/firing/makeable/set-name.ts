import type { Setting } from '../setting.ts';

/** A setting in words, to stand in a sentence. */
export const settingName = ({ attitude, turn_deg, shelf }: Setting): string => {
  const turned = attitude === 'on its side' && turn_deg !== 0 ? `, turned by ${turn_deg}°` : '';
  return `${attitude}${turned}${shelf === 'grips' ? ', on a shelf that grips' : ''}`;
};

const FULL_TURN = 360;
const QUARTERS = [0, 45, 90] as const;

/** Those a piece may be fired in if nothing else is said: upright, rim down, on its side at a few turns (one if it is round). */
export const usualSettings = (like: Setting, round: boolean): Setting[] => {
  const of = (attitude: Setting['attitude'], turn_deg: number): Setting => ({
    ...like,
    attitude,
    turn_deg: turn_deg % FULL_TURN,
    props: [],
  });
  return [
    of('upright', 0),
    of('rim down', 0),
    ...(round ? [0] : QUARTERS).map((turn) => of('on its side', turn)),
  ];
};
