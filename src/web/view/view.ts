import { Color } from 'three';
import type { CarvingOutline } from '../../making/form/carving/carving-outlines.ts';
import { celsiusFromKelvin } from '../../units.ts';
import type { Seen } from '../worker/film.ts';
import { buildEye } from './camera.ts';
import { extentOf } from './extent.ts';
import { glow } from './glow.ts';
import { buildOutlines } from './outlines.ts';
import { buildPiece } from './piece.ts';
import { buildProps } from './props.ts';
import { AROUND, buildStage, LIGHT, PAPER } from './stage.ts';

/** The picture of the piece: what the page may ask of it. */
export interface View {
  /** Another film; `afresh` when it is another piece and not the same one redrawn. Its pose comes with `at`. */
  readonly show: (seen: Seen, afresh: boolean, wrong?: Wrong) => void;
  /** Carving as lines on the wall; an empty list takes them away. */
  readonly outline: (lines: readonly CarvingOutline[]) => void;
  /** Moves to a place in the film (picture number and part of the way on) at its temperature. */
  readonly at: (place: number, temperature_K: number) => void;
  readonly ghost: (shown: boolean) => void;
  readonly movement: (shown: boolean) => void;
  /** How far apart the lines on the shelf are. */
  readonly ruled: (line_m: number) => void;
  /** Keeps this share of the picture on the right free of the piece, and no more than so many pixels. */
  readonly leaveFree: (share: number, most_px: number) => void;
  readonly turn: (round_rad: number, up_rad: number) => void;
  readonly resize: () => void;
}

/** What is drawn in red: some of the props, or the whole piece. */
export interface Wrong {
  readonly props: readonly number[];
  readonly piece: boolean;
}
const NOTHING: Wrong = { props: [], piece: false };

/** Movement that gets the full accent colour, whatever the piece: so that a quiet piece looks quiet. */
export const FULL_COLOUR_m = 0.008;
const BUTTONS_px = 44;
const EMBER = new Color('#74300f');

/** Draws only when something changed; nothing moves by itself. */
export const openView = (canvas: HTMLCanvasElement): View => {
  const stage = buildStage(canvas);
  const piece = buildPiece();
  const props = buildProps();
  const outlines = buildOutlines();
  stage.scene.add(piece.solid, piece.ghost, props.group, ...outlines.objects);
  let asked = false;
  let films = 0;
  const draw = (): void => {
    if (asked) return;
    asked = true;
    // The page redraws once a frame already: waiting for another would cost the preview 16 ms.
    queueMicrotask(() => {
      asked = false;
      stage.renderer.render(stage.scene, stage.camera);
      // How many films have reached the screen: what a preview's delay is measured by.
      canvas.dataset.films = String(films);
    });
  };
  const eye = buildEye(stage.camera, canvas, draw);
  let painted = false;
  let line = 0.01;
  let extent = { radius_m: 0.1, height_m: 0.2 };

  const air = (temperature_K: number): void => {
    const heat = glow(celsiusFromKelvin(temperature_K));
    (stage.scene.background as Color).lerpColors(PAPER, EMBER, Math.min(1, 1.15 * heat[0]));
    stage.shelf.material.emissive.setRGB(...heat).multiplyScalar(0.3);
    // In the fire the piece is seen by its own light.
    stage.light.intensity = LIGHT * (1 - 0.55 * heat[0]);
    stage.around.intensity = AROUND * (1 - 0.6 * heat[0]);
  };

  let seen: Seen | undefined;
  let lines: readonly CarvingOutline[] = [];
  let place = 0;
  let free = { share: 0, most_px: 0 };
  const pose = (): void => {
    const picture = piece.pose(place);
    if (!picture) return;
    props.pose(picture.linearScale);
    outlines.pose(picture);
  };

  const resize = (): void => {
    const { clientWidth, clientHeight } = canvas;
    if (clientWidth === 0 || clientHeight === 0) return;
    stage.renderer.setPixelRatio(Math.min(devicePixelRatio, 2));
    stage.renderer.setSize(clientWidth, clientHeight, false);
    outlines.resize(clientWidth, clientHeight);
    stage.camera.aspect = clientWidth / clientHeight;
    // The buttons lie over the lower edge: the piece is shown a little higher; and clear of what lies on the right.
    const { camera } = stage;
    const free_px = Math.min(free.share * clientWidth, free.most_px);
    camera.setViewOffset(clientWidth, clientHeight, free_px / 2, BUTTONS_px / 2, clientWidth, clientHeight);
    camera.updateProjectionMatrix();
    eye.frame(extent.radius_m, extent.height_m, false);
    draw();
  };

  return {
    show: (next, afresh, wrong = NOTHING) => {
      films++;
      seen = next;
      piece.take(seen);
      piece.paint(painted, FULL_COLOUR_m);
      piece.alarm(wrong.piece);
      extent = extentOf([seen.before.positions, ...seen.pictures.slice(-1).map((p) => p.positions)]);
      stage.fit(extent.radius_m, line);
      props.take(seen, extent.radius_m, wrong.props);
      outlines.take(lines, seen);
      eye.frame(extent.radius_m, extent.height_m, afresh);
      draw();
    },
    outline: (next) => {
      lines = next;
      outlines.take(lines, seen);
      pose();
      draw();
    },
    at: (next, temperature_K) => {
      place = next;
      pose();
      air(temperature_K);
      draw();
    },
    ghost: (shown) => {
      piece.ghost.visible = shown;
      draw();
    },
    movement: (shown) => {
      painted = shown;
      piece.paint(shown, FULL_COLOUR_m);
      draw();
    },
    ruled: (line_m) => {
      line = line_m;
      stage.fit(extent.radius_m, line);
      draw();
    },
    leaveFree: (share, most_px) => {
      if (share === free.share && most_px === free.most_px) return;
      free = { share, most_px };
      resize();
    },
    turn: eye.turn,
    resize,
  };
};
