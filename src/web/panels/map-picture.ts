import { h } from 'preact';
import { useEffect, useRef } from 'preact/hooks';

/** A map of depths as it came from its file: dark is deep. It is looked at here, not drawn. */
export const MapPicture = ({ map }: { readonly map: readonly (readonly number[])[] }) => {
  const canvas = useRef<HTMLCanvasElement>(null);
  const [high, wide] = [map.length, map[0]!.length];
  useEffect(() => {
    const paper = canvas.current?.getContext('2d');
    if (!paper) return;
    const picture = paper.createImageData(wide, high);
    map.flat().forEach((depth, i) => {
      const shade = 250 - 190 * depth;
      picture.data.set([shade, shade - 4, shade - 12, 255], 4 * i);
    });
    paper.putImageData(picture, 0, 0);
  }, [map]);
  return h(
    'figure',
    { class: 'map' },
    h('canvas', { ref: canvas, width: wide, height: high, role: 'img', 'aria-label': 'Map of depths' }),
    h('figcaption', null, `${wide} × ${high} depths from the file; dark is deep. Change it in the file.`),
  );
};
