import type { PerspectiveCamera } from 'three';
import { OrbitControls } from 'three/addons/controls/OrbitControls.js';

/** Radii within one step get the same distance, so that a piece that is drawn taller is seen to grow. */
const STEP = 1.18;
const DIRECTION = [0.62, -1.85, 0.72] as const;

export interface Eye {
  /** Looks at a piece of this height and radius, metres; `afresh` forgets how the picture was turned. */
  readonly frame: (radius_m: number, height_m: number, afresh: boolean) => void;
  readonly turn: (round_rad: number, up_rad: number) => void;
}

/** What frames a sphere of radius 1 in the narrower of the two directions. */
const distanceFor = (camera: PerspectiveCamera): number => {
  const half = (camera.fov * Math.PI) / 360;
  const narrow = Math.min(half, Math.atan(Math.tan(half) * camera.aspect));
  return 1.17 / Math.sin(narrow);
};

/** Turned by finger, mouse or arrow key about a point in the middle of the piece. */
export const buildEye = (camera: PerspectiveCamera, canvas: HTMLCanvasElement, changed: () => void): Eye => {
  const controls = new OrbitControls(camera, canvas);
  controls.enablePan = false;
  controls.maxPolarAngle = Math.PI * 0.62;
  controls.addEventListener('change', changed);
  let framed = 0;

  const frame = (radius_m: number, height_m: number, afresh: boolean): void => {
    const size = STEP ** Math.ceil(Math.log(radius_m) / Math.log(STEP)) * distanceFor(camera);
    const zoom = afresh || framed === 0 ? 1 : camera.position.distanceTo(controls.target) / framed;
    const way = camera.position.clone().sub(controls.target);
    if (afresh || framed === 0) way.set(...DIRECTION);
    framed = size;
    controls.target.set(0, 0, height_m / 2);
    camera.position.copy(controls.target).addScaledVector(way.normalize(), size * zoom);
    controls.minDistance = size * 0.4;
    controls.maxDistance = size * 2.2;
    controls.update();
  };

  const turn = (round_rad: number, up_rad: number): void => {
    const way = camera.position.clone().sub(controls.target);
    const flat = Math.hypot(way.x, way.y);
    const round = Math.atan2(way.y, way.x) + round_rad;
    const up = Math.min(1.5, Math.max(-0.3, Math.atan2(way.z, flat) + up_rad));
    const far = way.length();
    way.set(Math.cos(up) * Math.cos(round), Math.cos(up) * Math.sin(round), Math.sin(up));
    camera.position.copy(controls.target).addScaledVector(way, far);
    controls.update();
    changed();
  };
  return { frame, turn };
};
