import type { Picture } from '../../making/photo/picture.ts';

/** A photograph as the browser decoded it, the right way up. */
export interface Photo {
  readonly bitmap: ImageBitmap;
  readonly width: number;
  readonly height: number;
  /** Focal length as for 36 × 24 mm film, as the camera noted it, m. */
  readonly lens35_m?: number | undefined;
}

/** Finer than this tells no more of an edge, and costs time and memory. */
const LONGEST_px = 4000;

const lensOf = async (file: File): Promise<number | undefined> => {
  try {
    const { default: exifr } = await import('exifr');
    const noted = (await exifr.parse(file, ['FocalLengthIn35mmFormat'])) as
      | { FocalLengthIn35mmFormat?: number }
      | undefined;
    const lens = noted?.FocalLengthIn35mmFormat;
    return lens ? lens / 1000 : undefined;
  } catch {
    // A picture without notes is a picture all the same.
    return undefined;
  }
};

/** @throws Error, in words to show, where the browser cannot decode it */
export const readPhoto = async (file: File): Promise<Photo> => {
  const whole = await createImageBitmap(file, { imageOrientation: 'from-image' }).catch(() => {
    throw new Error(
      `${file.name}: this browser cannot read it as a picture. JPEG and PNG always work; a picture of another kind can be exported as JPEG.`,
    );
  });
  const share = Math.min(1, LONGEST_px / Math.max(whole.width, whole.height));
  const [width, height] = [Math.round(share * whole.width), Math.round(share * whole.height)];
  const bitmap =
    share < 1
      ? await createImageBitmap(whole, { resizeWidth: width, resizeHeight: height, resizeQuality: 'high' })
      : whole;
  return { bitmap, width, height, lens35_m: await lensOf(file) };
};

/** Its pixels, for a worker. */
export const pixelsOf = ({ bitmap, width, height }: Photo): Picture => {
  const context = new OffscreenCanvas(width, height).getContext('2d', { willReadFrequently: true });
  if (!context) throw new Error('this browser gives no canvas to read a picture with');
  context.drawImage(bitmap, 0, 0);
  return { width, height, data: context.getImageData(0, 0, width, height).data };
};
