import {
  BackSide,
  BufferAttribute,
  BufferGeometry,
  Color,
  Group,
  LineBasicMaterial,
  LineSegments,
  Mesh,
  MeshStandardMaterial,
  ShaderMaterial,
} from 'three';
import { celsiusFromKelvin } from '../../units.ts';
import type { Picture, Seen } from '../worker/film.ts';
import { glow } from './glow.ts';
import { between, layOut, type Skin, skinOf } from './skin.ts';

const PORCELAIN = new Color('#faf6ee');
const GHOST_INK = new Color('#5d6f73');
const MOVED = new Color('#b23a1e');
const WRONG = new Color('#e0705c');

/** The piece before the fire: seen only where its surface turns away from the eye, like breath on glass. */
export const ghostMaterial = (): ShaderMaterial =>
  new ShaderMaterial({
    transparent: true,
    depthWrite: false,
    // Only its far half: so it rings the piece and never dims it.
    side: BackSide,
    uniforms: { ink: { value: GHOST_INK } },
    vertexShader: `
      varying vec3 n; varying vec3 v;
      void main() {
        vec4 p = modelViewMatrix * vec4(position, 1.0);
        n = normalMatrix * normal; v = -p.xyz;
        gl_Position = projectionMatrix * p;
      }`,
    fragmentShader: `
      uniform vec3 ink; varying vec3 n; varying vec3 v;
      void main() {
        float facing = abs(dot(normalize(n), normalize(v)));
        gl_FragColor = vec4(ink, 0.05 + 0.55 * pow(1.0 - facing, 2.5));
      }`,
  });

export const pieceMaterial = (): MeshStandardMaterial =>
  new MeshStandardMaterial({ vertexColors: true, roughness: 0.5, metalness: 0 });

/** The piece as solid wall and as ghost. */
export interface Piece {
  readonly solid: Mesh<BufferGeometry, MeshStandardMaterial>;
  readonly ghost: Group;
  /** Takes the mesh of a film; the shape itself comes with `pose`. */
  readonly take: (seen: Seen) => void;
  /** The shape at a place in the film: picture number and part of the way to the next; gives what is shown. */
  readonly pose: (place: number) => Pick<Picture, 'positions' | 'linearScale'> | undefined;
  /** All of it in red: it does not stand so. */
  readonly alarm: (wrong: boolean) => void;
  /** Colours the wall by how far it moved beyond shrinkage; `most_m` gets the full colour. */
  readonly paint: (shown: boolean, most_m: number) => void;
}

const geometryOf = (skin: Skin): BufferGeometry => {
  const geometry = new BufferGeometry();
  geometry.setIndex(new BufferAttribute(skin.index, 1));
  for (const name of ['position', 'color'])
    geometry.setAttribute(name, new BufferAttribute(new Float32Array(3 * skin.nodeOf.length), 3));
  return geometry;
};

const lay = (
  skin: Skin,
  geometry: BufferGeometry,
  shape: Pick<Picture, 'positions' | 'thickness_m'>,
): void => {
  const at = geometry.getAttribute('position') as BufferAttribute;
  layOut(skin, shape, at.array as Float32Array);
  at.needsUpdate = true;
  geometry.computeVertexNormals();
  geometry.computeBoundingSphere();
};

export const buildPiece = (): Piece => {
  const solid = new Mesh(new BufferGeometry(), pieceMaterial());
  solid.castShadow = true;
  const breath = new Mesh(new BufferGeometry(), ghostMaterial());
  const edges = new LineSegments(
    new BufferGeometry(),
    new LineBasicMaterial({ color: GHOST_INK, transparent: true, opacity: 0.55 }),
  );
  const ghost = new Group().add(breath, edges);
  let film: Seen | undefined;
  let skin: Skin | undefined;

  const show = (shape: Pick<Picture, 'positions' | 'thickness_m'>, temperature_K: number): void => {
    if (!skin) return;
    lay(skin, solid.geometry, shape);
    solid.material.emissive.setRGB(...glow(celsiusFromKelvin(temperature_K))).multiplyScalar(0.72);
  };

  return {
    solid,
    ghost,
    take: (next) => {
      film = next;
      skin = skinOf(next.triangles, next.before.thickness_m.length);
      solid.geometry.dispose();
      breath.geometry.dispose();
      edges.geometry.dispose();
      solid.geometry = geometryOf(skin);
      breath.geometry = geometryOf(skin);
      // Its outside alone: the far half of that is what shows around the piece.
      breath.geometry.setIndex(new BufferAttribute(next.triangles, 1));
      lay(skin, breath.geometry, next.before);
      edges.geometry = new BufferGeometry()
        .setAttribute('position', breath.geometry.getAttribute('position'))
        .setIndex(new BufferAttribute(skin.openEdges, 1));
    },
    pose: (place) => {
      if (!film) return undefined;
      const last = film.pictures.length - 1;
      const at = Math.min(Math.max(place, 0), last);
      const a = film.pictures[Math.floor(at)];
      const b = film.pictures[Math.min(Math.floor(at) + 1, last)];
      if (!a || !b) {
        show(film.before, film.before.temperature_K);
        return film.before;
      }
      const t = at - Math.floor(at);
      const positions = between(a.positions, b.positions, t);
      const thickness_m = between(a.thickness_m, b.thickness_m, t);
      show({ positions, thickness_m }, a.temperature_K + t * (b.temperature_K - a.temperature_K));
      return { positions, linearScale: a.linearScale + t * (b.linearScale - a.linearScale) };
    },
    alarm: (wrong) => {
      solid.material.color.set(wrong ? WRONG : '#ffffff');
    },
    paint: (shown, most_m) => {
      if (!skin || !film) return;
      const colours = solid.geometry.getAttribute('color') as BufferAttribute;
      const mixed = new Color();
      for (let v = 0; v < skin.nodeOf.length; v++) {
        const share = shown ? Math.min(1, film.sag_m[skin.nodeOf[v]!]! / most_m) : 0;
        mixed.lerpColors(PORCELAIN, MOVED, share);
        colours.setXYZ(v, mixed.r, mixed.g, mixed.b);
      }
      colours.needsUpdate = true;
    },
  };
};
