import type { CutLine } from '../../kernel/mesh/cut.ts';
import type { BandShape, Firing, Frame } from '../../making/firing/firing.ts';
import { dryScaleOf } from '../../making/firing/placed.ts';
import type { Pose } from '../../making/firing/pose.ts';
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

/** What can be looked at: a piece in its setting, and the film of it if there is one. */
export interface Seen {
  readonly setting: Setting;
  readonly triangles: Uint32Array;
  /** The bone-dry piece as it is set in the kiln. */
  readonly before: Picture;
  readonly pictures: readonly Picture[];
  readonly sag_m: Float32Array;
  /** Where the props' origin stands, m. */
  readonly propsAt_m?: readonly [number, number];
  /** How the piece as drawn came to stand so, and its dry size against the one drawn; none where it does not stand. */
  readonly asSet?: Pose;
  readonly dryScale: number;
}

/** One end of the band, cut through the axis. */
export type BandCut = readonly Pick<CutLine, 'points' | 'half' | 'closed'>[];

/** A firing as the page shows it: the same words and numbers, meshes in single precision. */
export interface Film
  extends Seen,
    Omit<Firing, 'input' | 'dry' | 'frames' | 'sag_m' | 'asSet' | 'bands' | 'propsAt_m'> {
  readonly care: 'quick' | 'full';
  readonly bands?: {
    readonly stiff: BandCut;
    readonly soft: BandCut;
    readonly softFalls: boolean;
  };
}

const pictureOf = (frame: Frame): Picture => ({
  time_s: frame.time_s,
  temperature_K: frame.temperature_K,
  linearScale: frame.linearScale,
  porosity: frame.porosity,
  positions: Float32Array.from(frame.positions),
  thickness_m: Float32Array.from(frame.thickness_m),
});

const cutOf = ({ section }: BandShape): BandCut =>
  section.map(({ points, half, closed }) => ({ points, half, closed }));

export const filmOf = (firing: Firing): Film => {
  const { input, dry, frames, sag_m, bands, ...said } = firing;
  const pictures = frames.map(pictureOf);
  const first = frames[0];
  return {
    ...said,
    setting: input.setting,
    care: input.care,
    dryScale: dryScaleOf(input),
    ...(bands && {
      bands: { stiff: cutOf(bands.stiff), soft: cutOf(bands.soft), softFalls: bands.softFalls },
    }),
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
