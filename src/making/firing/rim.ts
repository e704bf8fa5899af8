import type { FormTags } from '../form/mesh-form.ts';
import type { Setting } from './setting.ts';

/** What a potter watches: the lip, and of a piece on its rim what is on top, its foot. */

export const rimName = (attitude: Setting['attitude']): string =>
  attitude === 'rim down' ? 'the top' : 'the lip';

export const rimNodes = (mesh: FormTags, attitude: Setting['attitude']): ArrayLike<number> => {
  if (attitude !== 'rim down') return mesh.lipNodes;
  const top = new Set<number>([...mesh.footNodes, ...mesh.footEdge]);
  mesh.floor.forEach((is, n) => {
    if (is) top.add(n);
  });
  return Uint32Array.from(top);
};
