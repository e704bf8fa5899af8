import type { WallMesh } from '../../kernel/mesh/mesh.ts';
import type { CameraKnown } from '../../making/photo/camera.ts';
import type { OutlineDifference } from '../../making/photo/compare-outlines.ts';
import type { Outline, PhotoRead, PhotoWish } from '../../making/photo/find-outline.ts';
import type { Homography } from '../../making/photo/homography.ts';
import type { OutlineMeasures } from '../../making/photo/outline-measures.ts';
import type { Picture } from '../../making/photo/picture.ts';
import type { Ring } from '../../making/photo/ring.ts';
import type { UnloadingOutline } from '../../making/photo/unloading-outline.ts';

export interface FindAsk {
  readonly kind: 'find';
  readonly picture: Picture;
  readonly wish: PhotoWish;
}

export interface ReadAsk {
  readonly kind: 'read';
  readonly outline: Outline;
  readonly toPicture: Homography;
  readonly size: Pick<Picture, 'width' | 'height'>;
  readonly camera: CameraKnown | undefined;
  readonly from_deg: number;
  /** Whether the form is round: then its true section can be had. */
  readonly round: boolean;
  readonly wall: WallMesh | undefined;
}

/** What an outline says, once it is right. */
export interface OutlineRead {
  /** As the unloading's file keeps it. */
  readonly outline: UnloadingOutline;
  readonly measures: OutlineMeasures;
  readonly difference?: (OutlineDifference & { readonly foreseen_m: Ring }) | undefined;
}

export type PhotoAsk = FindAsk | ReadAsk;
export type Found = PhotoRead;
