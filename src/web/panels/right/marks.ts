import { h } from 'preact';

/** A mark for each way of standing, so that no colour is needed to tell them apart; all of one area, about. */
const SHAPES: Readonly<Record<string, string>> = {
  upright: 'M0 -6.4A6.4 6.4 0 1 1 -0.01 -6.4Z',
  'rim down': 'M-7.4 -5.6H7.4L0 7.4Z',
  'on its side': 'M-5.7 -5.7H5.7V5.7H-5.7Z',
  leaning: 'M0 -8L8 0L0 8L-8 0Z',
};

export const mark = (attitude: string, x: number, y: number, cls: string, scale = 1) =>
  h('path', {
    class: `mark ${cls}`,
    d: SHAPES[attitude] ?? SHAPES.upright,
    transform: `translate(${x.toFixed(1)} ${y.toFixed(1)}) scale(${scale})`,
  });
