import { BufferAttribute, BufferGeometry, Color, Group, Mesh, MeshStandardMaterial } from 'three';
import { propMesh } from '../../making/firing/props/prop-mesh.ts';
import type { Prop } from '../../making/firing/props/table.ts';
import type { Seen } from '../worker/film.ts';

/** Kiln furniture: quieter than the piece. */
const QUIET = new Color('#a9a092');
const WRONG = new Color('#c4281a');
/** A wall is seen through, or it would hide what leans on it. */
const THROUGH = 0.35;
/** A wall is drawn this much larger than the piece reaches. */
const WALL_REACHES = 2.3;

export interface PropDrawing {
  readonly group: Group;
  /** @param wrong numbers of the props to draw in red */
  readonly take: (seen: Seen, radius_m: number, wrong: readonly number[]) => void;
  /** Kiln furniture keeps its size; what is made of the clay shrinks along. */
  readonly pose: (linearScale: number) => void;
}

/** Flat facets share no corners, so that edges stay edges. */
const geometryOf = (prop: Prop, reach_m: number, at: readonly [number, number]): BufferGeometry => {
  const { positions, triangles } = propMesh(prop, reach_m, at);
  const geometry = new BufferGeometry();
  geometry.setAttribute('position', new BufferAttribute(Float32Array.from(positions), 3));
  geometry.setIndex(new BufferAttribute(triangles, 1));
  const flat = geometry.toNonIndexed();
  geometry.dispose();
  flat.computeVertexNormals();
  return flat;
};

const meshOf = (prop: Prop, geometry: BufferGeometry, wrong: boolean): Mesh => {
  const isWall = prop.kind === 'wall';
  const material = new MeshStandardMaterial({
    color: wrong ? WRONG : QUIET,
    roughness: 0.95,
    transparent: isWall,
    opacity: isWall ? THROUGH : 1,
    depthWrite: !isWall,
  });
  const mesh = new Mesh(geometry, material);
  mesh.castShadow = mesh.receiveShadow = !isWall;
  mesh.userData.shrinks = prop.shrinks;
  return mesh;
};

export const buildProps = (): PropDrawing => {
  const group = new Group();
  return {
    group,
    take: ({ setting, propsAt_m = [0, 0] }, radius_m, wrong) => {
      for (const old of group.children as Mesh<BufferGeometry, MeshStandardMaterial>[]) {
        old.geometry.dispose();
        old.material.dispose();
      }
      group.clear();
      setting.props.forEach((prop, i) => {
        group.add(meshOf(prop, geometryOf(prop, WALL_REACHES * radius_m, propsAt_m), wrong.includes(i)));
      });
    },
    pose: (linearScale) => {
      for (const mesh of group.children) if (mesh.userData.shrinks) mesh.scale.setScalar(linearScale);
    },
  };
};
