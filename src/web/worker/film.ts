import type { Firing, Frame } from '../../making/firing/firing.ts';
import type { Setting } from '../../making/firing/setting.ts';

/** One picture of the film in single precision: enough for a screen, half the weight to hand over. */
export interface Picture {
  readonly time_s: number;
  readonly temperature_K: number;
  readonly linearScale: number;
  readonly porosity: number;
  readonly positions: Float32Array;
  readonly thickness_m: Float32Array;
}

/** A firing as the page shows it: the same words and numbers, meshes in single precision. */
export interface Film extends Omit<Firing, 'input' | 'dry' | 'frames' | 'sag_m'> {
  readonly setting: Setting;
  readonly care: 'quick' | 'full';
  readonly triangles: Uint32Array;
  /** The bone-dry piece as it is set in the kiln. */
  readonly before: Picture;
  readonly pictures: readonly Picture[];
  readonly sag_m: Float32Array;
}

const pictureOf = (frame: Frame): Picture => ({
  time_s: frame.time_s,
  temperature_K: frame.temperature_K,
  linearScale: frame.linearScale,
  porosity: frame.porosity,
  positions: Float32Array.from(frame.positions),
  thickness_m: Float32Array.from(frame.thickness_m),
});

export const filmOf = (firing: Firing): Film => {
  const { input, dry, frames, sag_m, ...said } = firing;
  const pictures = frames.map(pictureOf);
  const first = frames[0];
  return {
    ...said,
    setting: input.setting,
    care: input.care,
    triangles: Uint32Array.from(dry.triangles),
    before: {
      time_s: 0,
      temperature_K: first?.temperature_K ?? 293.15,
      linearScale: 1,
      porosity: first?.porosity ?? 0,
      positions: Float32Array.from(dry.positions),
      thickness_m: Float32Array.from(dry.thickness_m),
    },
    pictures,
    sag_m: Float32Array.from(sag_m),
  };
};

/** The buffers that may be handed over instead of copied; each belongs to this film alone. */
export const buffersOf = (film: Film): ArrayBuffer[] => [
  film.triangles.buffer as ArrayBuffer,
  film.sag_m.buffer as ArrayBuffer,
  ...[film.before, ...film.pictures].flatMap((p) => [
    p.positions.buffer as ArrayBuffer,
    p.thickness_m.buffer as ArrayBuffer,
  ]),
];
