import { h } from 'preact';
import { useMemo } from 'preact/hooks';
import { sectionOf } from '../../kernel/mesh/cut.ts';
import { propMesh, propSection } from '../../making/firing/props/prop-mesh.ts';
import { between } from '../view/skin.ts';
import type { Film, Seen } from '../worker/film.ts';
import { bandWalls, type Corner, wallsOf } from './section-shape.ts';

const THROUGH_AXIS = [0, 0, 0] as const;
const ACROSS = [0, 1, 0] as const;
const ROOM = 0.06;

const cutWalls = (triangles: Uint32Array, positions: Float32Array, thickness_m: Float32Array): Corner[][] =>
  wallsOf(
    sectionOf(
      { triangles, positions: Float64Array.from(positions), thickness_m: Float64Array.from(thickness_m) },
      THROUGH_AXIS,
      ACROSS,
    ),
  );

const pictureAt = ({ pictures }: Seen, place: number) => {
  const last = pictures.length - 1;
  const at = Math.min(Math.max(place, 0), last);
  const a = pictures[Math.floor(at)]!;
  const b = pictures[Math.min(Math.floor(at) + 1, last)]!;
  const t = at - Math.floor(at);
  return {
    positions: between(a.positions, b.positions, t),
    thickness_m: between(a.thickness_m, b.thickness_m, t),
  };
};

/** Kiln furniture as it is cut; a wall only as high as the piece. */
const propCuts = ({ setting, propsAt_m = [0, 0] }: Seen, tall_m: number): Corner[][] =>
  setting.props.flatMap((prop) =>
    propSection(propMesh(prop, tall_m, propsAt_m), THROUGH_AXIS, ACROSS).map(({ points }) =>
      Array.from({ length: points.length / 3 }, (_, i) => [points[3 * i]!, points[3 * i + 2]!] as const),
    ),
  );

const pathOf = (walls: readonly (readonly Corner[])[]): string =>
  walls
    .map(
      (w) =>
        `${w.map(([x, z], i) => `${i === 0 ? 'M' : 'L'}${(1000 * x).toFixed(2)} ${(-1000 * z).toFixed(2)}`).join('')}Z`,
    )
    .join('');

const boxOf = (walls: readonly (readonly Corner[])[]) => {
  const all = walls.flat();
  const [xs, zs] = [all.map(([x]) => x), all.map(([, z]) => z)];
  const [left, right] = [Math.min(...xs), Math.max(...xs)];
  const top = Math.max(...zs);
  const room = ROOM * Math.max(right - left, top);
  return {
    x: 1000 * (left - room),
    y: -1000 * (top + room),
    w: 1000 * (right - left + 2 * room),
    h: 1000 * (top + 1.6 * room),
  };
};

/** The piece cut through its axis: before as a dashed line, now as clay, and where it may as well have come to. */
export const SectionView = ({ film, place }: { readonly film: Film; readonly place: number }) => {
  const atEnd = place >= film.pictures.length - 1;
  const before = useMemo(
    () => cutWalls(film.triangles, film.before.positions, film.before.thickness_m),
    [film],
  );
  const band = useMemo(() => (film.bands ? bandWalls(film.bands.stiff, film.bands.soft) : []), [film]);
  const box = useMemo(() => boxOf([...before, ...band]), [film]);
  const props = useMemo(() => propCuts(film, box.h / 1000), [film]);
  const { positions, thickness_m } = pictureAt(film, place);
  const now = cutWalls(film.triangles, positions, thickness_m);
  return h(
    'figure',
    { class: 'section', 'data-band': atEnd && band.length > 0 ? 'shown' : 'none' },
    h(
      'svg',
      { viewBox: `${box.x} ${box.y} ${box.w} ${box.h}`, role: 'img', 'aria-label': saidOf(film) },
      h('path', { class: 'props', d: pathOf(props) }),
      h('path', { class: 'clay', d: pathOf(now) }),
      atEnd &&
        h(
          'g',
          { class: 'band' },
          band.map((w, i) => h('path', { key: i, d: pathOf([w]) })),
        ),
      h('path', { class: 'now', d: pathOf(now) }),
      h('path', { class: 'before', d: pathOf(before) }),
      h('path', { class: 'shelf', d: `M${box.x} 0H${box.x + box.w}` }),
    ),
    h('figcaption', null, captionOf(film, atEnd)),
  );
};

const captionOf = ({ bands, care }: Film, atEnd: boolean): string => {
  if (bands?.softFalls)
    return 'Red: four in five come out in here. At its soft end it falls; the band ends there.';
  if (bands)
    return atEnd
      ? 'Red: four in five come out in here.'
      : 'Cut through the axis. At the end of the fire: how sure.';
  return care === 'quick'
    ? 'Cut through the axis; dashed before the fire.'
    : 'Cut through the axis as far as it was followed.';
};

const saidOf = ({ bands }: Film): string =>
  `The piece cut through its axis, before the fire as a dashed line and now${bands ? ', with the band in which four in five come out' : ''}`;
