import { Document, type Material, WebIO } from '@gltf-transform/core';
import type { Mesh } from '../../kernel/mesh/mesh.ts';

export interface NamedMesh {
  readonly name: string;
  readonly mesh: Mesh;
  /** Straight (not premultiplied) colour, linear, 0 to 1. */
  readonly colour: readonly [number, number, number, number];
}

/** glTF stands on +Y up and metres; ours is z up and metres: (x, y, z) → (x, z, −y), a turn and no mirror. */
const yUp = (positions: Float64Array): Float32Array => {
  const out = new Float32Array(positions.length);
  for (let i = 0; i < positions.length; i += 3) {
    out[i] = positions[i];
    out[i + 1] = positions[i + 2];
    out[i + 2] = -positions[i + 1];
  }
  return out;
};

const addMesh = (document: Document, given: NamedMesh): void => {
  const buffer = document.getRoot().listBuffers()[0] ?? document.createBuffer();
  const positions = document
    .createAccessor()
    .setType('VEC3')
    .setArray(yUp(given.mesh.positions))
    .setBuffer(buffer);
  const indices = document
    .createAccessor()
    .setType('SCALAR')
    .setArray(given.mesh.triangles.slice())
    .setBuffer(buffer);
  const material: Material = document
    .createMaterial(given.name)
    .setBaseColorFactor([...given.colour])
    .setAlphaMode(given.colour[3] < 1 ? 'BLEND' : 'OPAQUE')
    .setMetallicFactor(0)
    .setRoughnessFactor(0.6);
  const primitive = document
    .createPrimitive()
    .setAttribute('POSITION', positions)
    .setIndices(indices)
    .setMaterial(material);
  const node = document
    .createNode(given.name)
    .setMesh(document.createMesh(given.name).addPrimitive(primitive));
  const scene = document.getRoot().listScenes()[0] ?? document.createScene('afterfire');
  document.getRoot().setDefaultScene(scene.addChild(node));
};

/** A binary glTF 2.0 file (.glb) with one node a mesh, metres, +Y up. */
export const glbOf = (meshes: readonly NamedMesh[]): Promise<Uint8Array> => {
  const document = new Document();
  document.getRoot().getAsset().generator = 'Afterfire';
  for (const given of meshes) addMesh(document, given);
  return new WebIO().writeBinary(document);
};
