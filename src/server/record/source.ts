import { AfterfireError } from '../../error.ts';
import type { StudioRecord } from '../../store/record.ts';

/** Where the record comes from; the invented one is made when it is first asked for. */
export type RecordSource = () => Promise<StudioRecord>;

export const nowUtc = (): string => new Date().toISOString();

/** An id in an address. */
export const idOf = (text: string | undefined): number => {
  if (text === undefined || !/^[1-9]\d{0,14}$/.test(text))
    throw new AfterfireError('not-found', `${text}: there is no such thing here`);
  return Number(text);
};
