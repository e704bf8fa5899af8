import { type ComponentChild, h } from 'preact';
import { useState } from 'preact/hooks';
import { inWords } from '../../state/record/ask.ts';
import { saveFile } from '../../state/record/save-file.ts';

export interface FileDoing {
  readonly busy: boolean;
  readonly save: (path: string) => Promise<void>;
  readonly doing: (work: () => Promise<string>) => Promise<void>;
  /** What came of it, in a place that is read out. */
  readonly told: ComponentChild;
}

/** One file at a time, with what came of it in words. */
export const useFileDoing = (): FileDoing => {
  const [busy, setBusy] = useState(false);
  const [said, setSaid] = useState('');
  const [trouble, setTrouble] = useState<string | undefined>(undefined);
  const doing = async (work: () => Promise<string>): Promise<void> => {
    setBusy(true);
    setTrouble(undefined);
    setSaid('One moment…');
    try {
      setSaid(await work());
    } catch (error) {
      setSaid('');
      setTrouble(inWords(error));
    } finally {
      setBusy(false);
    }
  };
  const save = (path: string): Promise<void> =>
    doing(async () => {
      const { name, said: lines } = await saveFile(path);
      return [`${name} is among your downloads.`, ...lines].join('\n');
    });
  const told = h(
    'div',
    { class: 'file-told' },
    h('p', { role: 'status' }, said),
    trouble !== undefined &&
      h('p', { class: 'not-saved', role: 'alert' }, h('b', null, 'Not made. '), trouble),
  );
  return { busy, save, doing, told };
};
