import { Vector3 } from 'three';
import type { Seen } from '../worker/film.ts';
import { extentOf } from './extent.ts';
import { buildPiece } from './piece.ts';
import { buildProps } from './props.ts';
import { buildStage } from './stage.ts';

/** Draws the end of a film, small, into a picture of its own; in red what does not stand. */
export type Portrait = (seen: Seen, wrong: boolean, onto: HTMLCanvasElement) => void;

/** The small pictures keep a line each centimetre: they are for the eye, not for measuring. */
const SHELF_LINE_m = 0.01;

const DIRECTION = new Vector3(0.62, -1.85, 0.6).normalize();

/** One hidden canvas serves all small pictures: a browser gives away only a few 3D contexts. */
export const openPortrait = (width: number, height: number): Portrait => {
  const canvas = document.createElement('canvas');
  const stage = buildStage(canvas);
  stage.renderer.setSize(width, height, false);
  stage.camera.aspect = width / height;
  stage.camera.updateProjectionMatrix();
  const piece = buildPiece();
  const props = buildProps();
  stage.scene.add(piece.solid, piece.ghost, props.group);
  return (seen, wrong, onto) => {
    piece.take(seen);
    const last = piece.pose(seen.pictures.length - 1);
    piece.paint(false, 1);
    piece.alarm(wrong);
    piece.ghost.visible = !wrong;
    const { radius_m, height_m } = extentOf([
      seen.before.positions,
      ...seen.pictures.slice(-1).map((p) => p.positions),
    ]);
    props.take(seen, radius_m, []);
    props.pose(last?.linearScale ?? 1);
    stage.fit(radius_m, SHELF_LINE_m);
    const half = (stage.camera.fov * Math.PI) / 360;
    const middle = new Vector3(0, 0, height_m / 2);
    stage.camera.position.copy(middle).addScaledVector(DIRECTION, (1.02 * radius_m) / Math.sin(half));
    stage.camera.lookAt(middle);
    stage.renderer.render(stage.scene, stage.camera);
    onto.width = width;
    onto.height = height;
    onto.getContext('2d')?.drawImage(canvas, 0, 0);
  };
};
