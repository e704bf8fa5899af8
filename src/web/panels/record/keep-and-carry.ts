import { h } from 'preact';
import { useState } from 'preact/hooks';
import { askRecord, inWords } from '../../state/record/ask.ts';
import { sayMoment } from './entry-words.ts';
import { type FileDoing, useFileDoing } from './file-doing.ts';

interface Backup {
  readonly at_utc: string;
  readonly bytes: number;
}
type Looked = Readonly<Record<string, string>>;

const MB = (bytes: number): string => `${(bytes / 1e6).toFixed(1)} MB`;

const lookAt = async ({ at_utc }: Backup): Promise<string> => {
  try {
    const { sound, trouble } = await askRecord<{ sound: boolean; trouble?: string }>(
      `/keep/backups/${encodeURIComponent(at_utc)}`,
    );
    return sound ? 'sound' : `NOT sound: ${trouble ?? ''}`;
  } catch (error) {
    return `could not be looked at: ${inWords(error)}`;
  }
};

/** The backups, each looked through one after another when the fold is opened: that reads the whole of it. */
const useBackups = () => {
  const [backups, setBackups] = useState<readonly Backup[] | undefined>(undefined);
  const [looked, setLooked] = useState<Looked>({});
  const show = async (list: readonly Backup[]): Promise<void> => {
    setBackups(list);
    setLooked({});
    for (const backup of list) {
      const words = await lookAt(backup);
      setLooked((before) => ({ ...before, [backup.at_utc]: words }));
    }
  };
  return { backups, looked, show };
};

const rows = (backups: readonly Backup[], looked: Looked, zone: string) =>
  h(
    'ul',
    { class: 'backup-list' },
    backups.map(({ at_utc, bytes }) =>
      h(
        'li',
        { key: at_utc, 'data-backup': at_utc, 'data-sound': looked[at_utc] === 'sound' },
        h('time', { dateTime: at_utc }, sayMoment(at_utc, zone)),
        h('span', null, MB(bytes)),
        h('b', null, looked[at_utc] ?? 'looking…'),
      ),
    ),
  );

const carry = ({ busy, save }: FileDoing, backUp: () => void) =>
  h(
    'div',
    { class: 'row' },
    h('button', { type: 'button', disabled: busy, 'data-do': 'backup-now', onClick: backUp }, 'Back up now'),
    h(
      'button',
      { type: 'button', disabled: busy, 'data-do': 'archive', onClick: () => void save('/keep/archive') },
      'Whole studio (.zip)',
    ),
    h(
      'button',
      { type: 'button', disabled: busy, 'data-do': 'table', onClick: () => void save('/keep/table') },
      'Pieces as a table (.csv)',
    ),
  );

/** Copies of the record, and the way out of it. */
export const KeepAndCarry = ({ zone }: { readonly zone: string }) => {
  const { backups, looked, show } = useBackups();
  const files = useFileDoing();
  const [trouble, setTrouble] = useState<string | undefined>(undefined);
  const opened = async (open: boolean): Promise<void> => {
    if (!open) return;
    setTrouble(undefined);
    try {
      await show((await askRecord<{ backups: Backup[] }>('/keep/backups')).backups);
    } catch (error) {
      setTrouble(inWords(error));
    }
  };
  const backUp = (): void =>
    void files.doing(async () => {
      const { backups: all, missingPhotos } = await askRecord<{
        backups: Backup[];
        missingPhotos: readonly string[];
      }>('/keep/backups', 'POST', {});
      void show(all);
      return missingPhotos.length === 0
        ? 'A backup is made.'
        : `A backup is made, without ${missingPhotos.length} photos that are missing or damaged.`;
    });
  return h(
    'details',
    {
      class: 'paper-fold',
      'data-fold': 'keep',
      onToggle: (event: Event) => void opened((event.target as HTMLDetailsElement).open),
    },
    h('summary', null, 'Keep and carry'),
    carry(files, backUp),
    files.told,
    h('h2', null, 'Backups'),
    trouble !== undefined && h('p', { class: 'wrong', role: 'alert' }, trouble),
    backups && backups.length === 0 && h('p', { class: 'hint' }, 'None yet.'),
    backups && backups.length > 0 && rows(backups, looked, zone),
    h(
      'p',
      { class: 'hint' },
      'Backups lie beside the record on the same disk: carry the archive to another one now and then. A backup or an archive is put back at the command line, with the server stopped: afterfire record restore, afterfire record import.',
    ),
  );
};
