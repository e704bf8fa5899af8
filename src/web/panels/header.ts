import { h } from 'preact';
import { ROOMS, roomOf } from '../rooms/all-rooms.ts';
import type { Session } from '../session.ts';
import { fileNameOf, formText, readBenchFile } from '../state/form-file.ts';
import { redo, undo } from '../state/history.ts';
import { formOnBench, workOf } from '../state/page.ts';
import { saveText } from './save.ts';

const openFile = async (session: Session, input: HTMLInputElement): Promise<void> => {
  const file = input.files?.[0];
  input.value = '';
  if (!file) return;
  try {
    const found = await readBenchFile(file);
    session.replace({ ...workOf(session.page()), ...found });
    session.update((p) => ({
      ...p,
      opened: 'form' in found ? undefined : p.opened,
      chosen: undefined,
      notOpened: undefined,
    }));
  } catch (error) {
    const notOpened = error instanceof Error ? error.message : String(error);
    session.update((p) => ({ ...p, notOpened }));
  }
};

const saveForm = (session: Session): void => {
  const { form } = workOf(session.page());
  saveText(formText(form), fileNameOf(form));
};

const formChoice = (session: Session) => {
  const page = session.page();
  const { forms } = page.studio;
  const open = (opened: string): void => {
    const found = formOnBench(page.studio, opened);
    if (!found) return;
    session.replace({ ...workOf(page), ...found });
    session.update((p) => ({ ...p, opened, chosen: undefined, notOpened: undefined }));
  };
  return h(
    'label',
    { class: 'form-choice' },
    h('span', { class: 'unseen' }, 'Form'),
    h(
      'select',
      {
        value: page.opened ?? '',
        'data-field': 'form',
        onChange: (event: Event) => open((event.target as HTMLSelectElement).value),
      },
      page.opened === undefined && h('option', { value: '' }, workOf(page).form.name),
      Object.entries(forms).map(([key, form]) => h('option', { key, value: key }, form.name)),
    ),
  );
};

const unitSwitch = (shown: string, label: string, onClick: () => void) =>
  h('button', { type: 'button', class: 'unit-switch', 'aria-label': label, title: label, onClick }, shown);

const ways = (open: string) =>
  h(
    'nav',
    { class: 'ways', 'aria-label': 'Pages' },
    ROOMS.filter(({ within }) => within === undefined).map(({ key, name }) =>
      h(
        'a',
        { key, href: `#${key}`, 'aria-current': key === (roomOf(open).within ?? open) ? 'page' : undefined },
        name,
      ),
    ),
  );

/** The form on the bench, its file, and the way back. */
const tools = (session: Session) => {
  const { past, future } = session.page().history;
  return [
    formChoice(session),
    h(
      'label',
      { class: 'button' },
      'Open…',
      h('input', {
        type: 'file',
        accept: '.json,application/json',
        class: 'unseen',
        'aria-label': 'Open a form file or a setting file',
        onChange: (event: Event) => void openFile(session, event.target as HTMLInputElement),
      }),
    ),
    h('button', { type: 'button', onClick: () => saveForm(session) }, 'Save form'),
    h('span', { class: 'spring' }),
    h(
      'button',
      {
        type: 'button',
        disabled: past.length === 0,
        'data-do': 'undo',
        onClick: () =>
          session.update((p) => ({ ...p, history: undo(p.history), faults: {}, trial: undefined })),
      },
      'Undo',
    ),
    h(
      'button',
      {
        type: 'button',
        disabled: future.length === 0,
        'data-do': 'redo',
        onClick: () =>
          session.update((p) => ({ ...p, history: redo(p.history), faults: {}, trial: undefined })),
      },
      'Redo',
    ),
  ];
};

/** The studio's pages, what the open one works on, and the units. */
export const Header = ({ session }: { readonly session: Session }) => {
  const page = session.page();
  const { onForm } = roomOf(page.room);
  return h(
    'header',
    null,
    h('h1', null, 'Afterfire'),
    ways(page.room),
    h('span', { class: 'spring' }),
    h(
      'div',
      { class: 'units', role: 'group', 'aria-label': 'Units' },
      unitSwitch(
        page.lengths,
        page.lengths === 'mm' ? 'Lengths in mm; change to inches' : 'Lengths in inches; change to mm',
        () => session.update((p) => ({ ...p, lengths: p.lengths === 'mm' ? 'in' : 'mm' })),
      ),
      unitSwitch(
        `°${page.degrees}`,
        page.degrees === 'C' ? 'Temperatures in °C; change to °F' : 'Temperatures in °F; change to °C',
        () => session.update((p) => ({ ...p, degrees: p.degrees === 'C' ? 'F' : 'C' })),
      ),
    ),
    onForm &&
      h('div', { class: 'tools', role: 'group', 'aria-label': 'The form on the bench' }, tools(session)),
    page.notOpened !== undefined &&
      h(
        'div',
        { class: 'not-opened', role: 'alert' },
        h(
          'div',
          null,
          h('b', null, 'That file was not opened; what is on the bench is as it was.'),
          h('p', null, page.notOpened),
        ),
        h(
          'button',
          { type: 'button', onClick: () => session.update((p) => ({ ...p, notOpened: undefined })) },
          'Close',
        ),
      ),
  );
};
