import {
  BoxGeometry,
  BufferAttribute,
  BufferGeometry,
  Color,
  DirectionalLight,
  Group,
  HemisphereLight,
  LineBasicMaterial,
  LineSegments,
  Mesh,
  MeshStandardMaterial,
  PCFShadowMap,
  PerspectiveCamera,
  Scene,
  WebGLRenderer,
} from 'three';

export const PAPER = new Color('#f3ecdf');
/** With the light from around, what faces the window is just short of white. */
export const LIGHT = 2.15;
export const AROUND = 1.7;
const SHELF = new Color('#cdbca0');
const SHELF_LINES = new Color('#6f5c40');
/** Kiln shelves are about this thick (common practice, no source). */
const SHELF_m = 0.014;

export interface Stage {
  readonly renderer: WebGLRenderer;
  readonly scene: Scene;
  readonly camera: PerspectiveCamera;
  readonly light: DirectionalLight;
  readonly around: HemisphereLight;
  readonly shelf: Mesh<BoxGeometry, MeshStandardMaterial>;
  /** Makes shelf, light and grid fit a piece of this radius, with a line each so far on the shelf, metres. */
  readonly fit: (radius_m: number, line_m: number) => void;
}

/** A grid on the shelf: the eye's ruler. */
const gridLines = (half_m: number, line_m: number): BufferGeometry => {
  const n = Math.floor(half_m / line_m + 1e-9);
  const points: number[] = [];
  for (let i = -n; i <= n; i++) {
    const at = i * line_m;
    points.push(at, -half_m, 0, at, half_m, 0, -half_m, at, 0, half_m, at, 0);
  }
  return new BufferGeometry().setAttribute('position', new BufferAttribute(Float32Array.from(points), 3));
};

/** Paper, a kiln shelf, and light from a window on the left. z is up, metres. */
export const buildStage = (canvas: HTMLCanvasElement): Stage => {
  const renderer = new WebGLRenderer({ canvas, antialias: true, preserveDrawingBuffer: true });
  renderer.shadowMap.enabled = true;
  renderer.shadowMap.type = PCFShadowMap;
  const scene = new Scene();
  scene.background = PAPER.clone();
  const camera = new PerspectiveCamera(26, 1, 0.02, 20);
  camera.up.set(0, 0, 1);

  const light = new DirectionalLight('#fff8ec', LIGHT);
  light.castShadow = true;
  light.shadow.mapSize.set(1024, 1024);
  light.shadow.normalBias = 0.0006;
  light.shadow.radius = 4;
  const around = new HemisphereLight('#fdfbf8', '#dccfbc', AROUND);
  scene.add(light, light.target, around);

  const shelf = new Mesh(
    new BoxGeometry(1, 1, SHELF_m),
    new MeshStandardMaterial({ color: SHELF, roughness: 0.95 }),
  );
  shelf.position.z = -SHELF_m / 2;
  shelf.receiveShadow = true;
  const grid = new LineSegments(
    gridLines(0.1, 0.01),
    new LineBasicMaterial({ color: SHELF_LINES, transparent: true, opacity: 0.3 }),
  );
  grid.position.z = 0.0001;
  scene.add(new Group().add(shelf, grid));

  const fit = (radius_m: number, line_m: number): void => {
    const half = Math.ceil((1.35 * radius_m) / line_m) * line_m;
    shelf.scale.set(2 * half, 2 * half, 1);
    grid.geometry.dispose();
    grid.geometry = gridLines(half, line_m);
    light.position.set(-1.6 * radius_m, -2.4 * radius_m, 4.2 * radius_m);
    const box = light.shadow.camera;
    box.left = box.bottom = -1.9 * radius_m;
    box.right = box.top = 1.9 * radius_m;
    box.near = 0.1 * radius_m;
    box.far = 9 * radius_m;
    box.updateProjectionMatrix();
  };
  return { renderer, scene, camera, light, around, shelf, fit };
};
