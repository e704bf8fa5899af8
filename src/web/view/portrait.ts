import { Vector3 } from 'three';
import type { Film } from '../worker/film.ts';
import { extentOf } from './extent.ts';
import { buildPiece } from './piece.ts';
import { buildStage } from './stage.ts';

/** Draws the end of a film, small, into a picture of its own. */
export type Portrait = (film: Film, onto: HTMLCanvasElement) => void;

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
  stage.scene.add(piece.solid, piece.ghost);
  return (film, onto) => {
    piece.take(film);
    piece.pose(film.pictures.length - 1);
    piece.paint(false, 1);
    const { radius_m, height_m } = extentOf([
      film.before.positions,
      ...film.pictures.slice(-1).map((p) => p.positions),
    ]);
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
