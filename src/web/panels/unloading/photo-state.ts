import { useEffect, useRef, useState } from 'preact/hooks';
import type { WallMesh } from '../../../kernel/mesh/mesh.ts';
import type { CameraKnown } from '../../../making/photo/camera.ts';
import { correctOutline, type Drag } from '../../../making/photo/correct-outline.ts';
import type { Outline, PhotoRead, PhotoWish } from '../../../making/photo/find-outline.ts';
import { type Photo, pixelsOf, readPhoto } from '../../state/photo.ts';
import { type Job, startJob } from '../../worker/job.ts';
import type { FindAsk, OutlineRead, ReadAsk } from '../../worker/photo-jobs.ts';

/** A photograph on its way from the file to an outline that is right. */
export interface PhotoState {
  readonly photo: Photo | undefined;
  readonly busy: 'opening' | 'finding' | undefined;
  readonly trouble: string | undefined;
  readonly found: PhotoRead | undefined;
  readonly drags: readonly Drag[];
  /** With all pulls by hand. */
  readonly outline: Outline | undefined;
  readonly read: OutlineRead | undefined;
}

export interface PhotoHand extends PhotoState {
  readonly open: (file: File) => void;
  readonly find: (wish: PhotoWish) => void;
  readonly pull: (drags: readonly Drag[]) => void;
}

/** The comparison follows a moving hand this late. */
const REST_ms = 350;

const newWorker = (): Worker =>
  new Worker(new URL('../../worker/photo-worker.ts', import.meta.url), { type: 'module' });

const said = (error: unknown): string => (error instanceof Error ? error.message : String(error));

const NONE: Omit<PhotoState, 'outline' | 'read'> = {
  photo: undefined,
  busy: undefined,
  trouble: undefined,
  found: undefined,
  drags: [],
};

export interface SeenFrom {
  readonly from_deg: number;
  readonly camera: CameraKnown | undefined;
  readonly round: boolean;
  readonly wall: WallMesh | undefined;
}

export const usePhoto = ({ from_deg, camera, round, wall }: SeenFrom): PhotoHand => {
  const [state, setState] = useState(NONE);
  const [read, setRead] = useState<OutlineRead | undefined>(undefined);
  const finding = useRef<Job<PhotoRead>>(undefined);
  const set = (part: Partial<typeof NONE>): void => setState((s) => ({ ...s, ...part }));
  useEffect(() => () => finding.current?.cancel(), []);

  const findIn = (photo: Photo, wish: PhotoWish): void => {
    finding.current?.cancel();
    set({ busy: 'finding', trouble: undefined });
    const ask: FindAsk = { kind: 'find', picture: pixelsOf(photo), wish };
    const job = startJob<PhotoRead>(newWorker(), ask);
    finding.current = job;
    job.done.then(
      (found) => {
        if (found) set({ busy: undefined, found, drags: [] });
      },
      (error: unknown) => set({ busy: undefined, trouble: said(error) }),
    );
  };

  const outline = state.found?.outline && correctOutline(state.found.outline, state.drags);
  const card = state.found?.card;
  useEffect(() => {
    setRead(undefined);
    const { photo } = state;
    if (!outline || !card || !photo) return undefined;
    let job: Job<OutlineRead> | undefined;
    const resting = setTimeout(() => {
      const ask: ReadAsk = {
        kind: 'read',
        outline,
        toPicture: card.toPicture,
        size: { width: photo.width, height: photo.height },
        camera,
        from_deg,
        round,
        wall,
      };
      job = startJob<OutlineRead>(newWorker(), ask);
      job.done.then(setRead, (error: unknown) => set({ trouble: said(error) }));
    }, REST_ms);
    return () => {
      clearTimeout(resting);
      job?.cancel();
    };
  }, [state.found, state.drags, JSON.stringify(camera), from_deg, round, wall]);

  return {
    ...state,
    outline,
    read,
    open: (file) => {
      finding.current?.cancel();
      setState({ ...NONE, busy: 'opening' });
      readPhoto(file).then(
        (photo) => {
          setState({ ...NONE, photo });
          findIn(photo, {});
        },
        (error: unknown) => setState({ ...NONE, trouble: said(error) }),
      );
    },
    find: (wish) => {
      if (state.photo) findIn(state.photo, wish);
    },
    pull: (drags) => set({ drags }),
  };
};
