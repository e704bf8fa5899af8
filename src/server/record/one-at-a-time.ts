import { AfterfireError } from '../../error.ts';

/** Long work is done once at a time: a page that asks again and again cannot hold up the studio. */
export const oneAtATime = (what: string): (<T>(work: () => Promise<T>) => Promise<T>) => {
  let busy = false;
  return async (work) => {
    if (busy) throw new AfterfireError('cannot-do', `${what} is being made already; ask again in a moment`);
    busy = true;
    try {
      return await work();
    } finally {
      busy = false;
    }
  };
};
