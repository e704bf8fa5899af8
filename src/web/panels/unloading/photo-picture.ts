import { h } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import { correctOutline, type Drag } from '../../../making/photo/correct-outline.ts';
import type { Outline } from '../../../making/photo/find-outline.ts';
import { type Homography, inverse, type Point, through } from '../../../making/photo/homography.ts';
import { normalsOf, ringLength } from '../../../making/photo/ring.ts';
import type { Photo } from '../../state/photo.ts';
import type { OutlineRead } from '../../worker/photo-jobs.ts';

const HANDLES = 14;
/** Half a finger, and the handle stands so far off the edge that the finger does not hide it; CSS px. */
const TOUCH_px = 24;
const OFF_px = 34;
/** What an arrow key pulls by, m. */
const NUDGE_m = 0.0005;
const LONGEST_SHOWN_px = 1600;

interface Props {
  readonly photo: Photo;
  readonly toPicture: Homography | undefined;
  readonly outline: Outline | undefined;
  readonly drags: readonly Drag[];
  readonly read: OutlineRead | undefined;
  readonly pull: (drags: readonly Drag[]) => void;
  /** Asked to point at something: told the place, px of the picture. */
  readonly point?: ((at: Point) => void) | undefined;
  readonly pointed: readonly Point[];
}

const pathOf = (points_m: ArrayLike<number>, place: (x: number, z: number) => Point): string => {
  const out: string[] = [];
  for (let i = 0; i < points_m.length; i += 2) {
    const [u, v] = place(points_m[i], points_m[i + 1]);
    out.push(`${u.toFixed(1)} ${v.toFixed(1)}`);
  }
  return `M${out.join('L')}Z`;
};

interface Handle {
  readonly i: number;
  readonly at_m: Point;
  readonly edge: Point;
  readonly mark: Point;
}

const handlesOf = (outline: Outline, place: (x: number, z: number) => Point, off: number): Handle[] => {
  const { points_m: p, sure } = outline;
  const normals = normalsOf(p);
  return Array.from({ length: HANDLES }, (_, k) => {
    const i = Math.floor(((k + 0.5) * sure.length) / HANDLES);
    const at_m: Point = [p[2 * i], p[2 * i + 1]];
    const edge = place(...at_m);
    // A millimetre outward, seen in the picture, gives the direction there.
    const [u, v] = place(at_m[0] + 0.001 * normals[2 * i], at_m[1] + 0.001 * normals[2 * i + 1]);
    const long = Math.hypot(u - edge[0], v - edge[1]) || 1;
    return {
      i,
      at_m,
      edge,
      mark: [edge[0] + (off * (u - edge[0])) / long, edge[1] + (off * (v - edge[1])) / long],
    };
  });
};

/** The photograph with the outline found on it and the one foreseen; handles to pull the first right. */
export const PhotoPicture = ({ photo, toPicture, outline, drags, read, pull, point, pointed }: Props) => {
  const canvas = useRef<HTMLCanvasElement>(null);
  const svg = useRef<SVGSVGElement>(null);
  const [shown_px, setShown] = useState(600);
  const [moving, setMoving] = useState<{ readonly k: number; readonly to_m: Point } | undefined>(undefined);
  useEffect(() => {
    const share = Math.min(1, LONGEST_SHOWN_px / Math.max(photo.width, photo.height));
    const c = canvas.current;
    if (!c) return undefined;
    c.width = Math.round(share * photo.width);
    c.height = Math.round(share * photo.height);
    c.getContext('2d')?.drawImage(photo.bitmap, 0, 0, c.width, c.height);
    const watch = new ResizeObserver(([entry]) => setShown(entry.contentRect.width || 600));
    watch.observe(c);
    return () => watch.disconnect();
  }, [photo]);

  const k = photo.width / shown_px;
  const place = (x: number, z: number): Point => (toPicture ? through(toPicture, x, z) : [0, 0]);
  const back = toPicture && inverse(toPicture);
  const handles = outline ? handlesOf(outline, place, OFF_px * k) : [];
  const reach_m = outline ? ringLength(outline.points_m) / HANDLES : 1;
  const dragOf = (handle: Handle, to_m: Point): Drag => ({ from_m: handle.at_m, to_m, reach_m });
  const held = moving && handles[moving.k];
  const live = outline && held ? correctOutline(outline, [dragOf(held, moving.to_m)]) : outline;

  const placeOf = (event: PointerEvent | MouseEvent): Point => {
    const box = svg.current!.getBoundingClientRect();
    return [
      ((event.clientX - box.left) / box.width) * photo.width,
      ((event.clientY - box.top) / box.height) * photo.height,
    ];
  };
  const carried = (event: PointerEvent, handle: Handle): Point => {
    const [u, v] = placeOf(event);
    return through(back!, u + handle.edge[0] - handle.mark[0], v + handle.edge[1] - handle.mark[1]);
  };
  const nudge = (event: KeyboardEvent, handle: Handle): void => {
    const way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[event.key];
    if (!way) return;
    event.preventDefault();
    const by = NUDGE_m * (event.shiftKey ? 5 : 1);
    const [x, z] = handle.at_m;
    pull([...drags, dragOf(handle, [x + by * way[0], z + by * way[1]])]);
  };

  const mark = (handle: Handle, n: number) => {
    const shown = held === handle && moving ? place(...moving.to_m) : handle.edge;
    const [dx, dy] = [shown[0] - handle.edge[0], shown[1] - handle.edge[1]];
    const [x, y] = [handle.mark[0] + dx, handle.mark[1] + dy];
    return h(
      'g',
      {
        key: handle.i,
        class: 'pull',
        role: 'button',
        tabindex: 0,
        'aria-label': `Handle ${n + 1} of ${HANDLES}: drag, or arrow keys, to correct the outline here`,
        'data-pull': n,
        onPointerDown: (event: PointerEvent) => {
          (event.currentTarget as Element).setPointerCapture(event.pointerId);
          setMoving({ k: n, to_m: handle.at_m });
        },
        onPointerMove: (event: PointerEvent) => {
          if (moving?.k === n) setMoving({ k: n, to_m: carried(event, handle) });
        },
        onPointerUp: () => {
          if (moving?.k === n) pull([...drags, dragOf(handle, moving.to_m)]);
          setMoving(undefined);
        },
        onPointerCancel: () => setMoving(undefined),
        onKeyDown: (event: KeyboardEvent) => nudge(event, handle),
      },
      h('path', { class: 'stem', d: `M${shown[0]} ${shown[1]}L${x} ${y}` }),
      h('circle', { class: 'touch', cx: x, cy: y, r: TOUCH_px * k }),
      h('circle', { class: 'knob', cx: x, cy: y, r: 9 * k }),
    );
  };

  const difference = moving ? undefined : read?.difference;
  const foreseen = difference && pathOf(difference.foreseen_m, (x, z) => place(x - difference.shift_m, z));
  const own = live && pathOf(live.points_m, place);
  return h(
    'div',
    { class: 'photo-picture' },
    h('canvas', { ref: canvas, role: 'img', 'aria-label': 'The photograph' }),
    h(
      'svg',
      {
        ref: svg,
        viewBox: `0 0 ${photo.width} ${photo.height}`,
        class: point ? 'pointing' : '',
        onClick: (event: MouseEvent) => point?.(placeOf(event)),
      },
      foreseen && own && h('path', { class: 'apart', 'fill-rule': 'evenodd', d: `${own}${foreseen}` }),
      foreseen && h('path', { class: 'foreseen', d: foreseen }),
      own && h('path', { class: 'found', d: own, 'data-outline': drags.length }),
      pointed.map(([x, y], n) =>
        h(
          'g',
          { key: n, class: 'pointed' },
          h('circle', { cx: x, cy: y, r: 10 * k }),
          h('text', { x: x + 14 * k, y, 'font-size': 18 * k }, n + 1),
        ),
      ),
      !point && handles.map(mark),
    ),
  );
};
