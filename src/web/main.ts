import { h, render } from 'preact';
import { z } from 'zod';
import { App } from './panels/app.ts';
import { player } from './play.ts';
import { roomOf } from './rooms/all-rooms.ts';
import { openSession } from './session.ts';
import { JoinPage } from './share/join-page.ts';
import { keptDraft } from './state/draft.ts';
import { redo, undo } from './state/history.ts';
import { formOnBench, type Studio, startPage, type Work } from './state/page.ts';
import { keptUnits } from './state/units-kept.ts';

// The page forbids code made from text; zod then must not try its fast path, which is made that way.
z.config({ jitless: true });

const root = document.getElementById('page')!;

/** Over the studio's network the laptop answers so to a device it does not know yet. */
const NOT_LET_IN = 401;
class NotLetIn extends Error {}

const studioFromServer = async (): Promise<Studio> => {
  const answer = await fetch('/api/studio');
  const json = (await answer.json()) as Studio & { error?: { message: string } };
  if (answer.status === NOT_LET_IN) throw new NotLetIn();
  if (!answer.ok) throw new Error(json.error?.message ?? `the server answered ${answer.status}`);
  return json;
};

const askToJoin = (): void => {
  const { hash } = location;
  root.replaceChildren();
  render(
    h(JoinPage, {
      hash,
      joined: () => {
        history.replaceState(undefined, '', '/');
        location.reload();
      },
    }),
    root,
  );
};

const usualWork = (studio: Studio): Work => ({
  ...formOnBench(studio, studio.studio.form)!,
  clay: studio.clays[studio.studio.clay]!,
  schedule: studio.schedules[studio.studio.schedule]!,
});

const open = (studio: Studio): void => {
  const draft = keptDraft(studio);
  let asked = false;
  const redraw = (): void => {
    if (asked) return;
    asked = true;
    requestAnimationFrame(() => {
      asked = false;
      render(h(App, { session, play }), root);
    });
  };
  const session = openSession(
    startPage(
      studio,
      draft?.work ?? usualWork(studio),
      draft ? draft.opened : studio.studio.form,
      keptUnits(),
    ),
    redraw,
  );
  const play = player(session);
  root.replaceChildren();
  const goTo = (): void => {
    // With a record, the day begins with what needs somebody now.
    const address = location.hash.slice(1) || (studio.recorded ? 'today' : '');
    const { key } = roomOf(address);
    session.update((p) => ({ ...p, room: key }));
  };
  addEventListener('hashchange', goTo);
  goTo();
  addEventListener('keydown', (event) => {
    if (!(event.ctrlKey || event.metaKey) || event.key.toLowerCase() !== 'z') return;
    if (event.target instanceof HTMLInputElement && event.target.type === 'text') return;
    event.preventDefault();
    const way = event.shiftKey ? redo : undo;
    session.update((p) => ({ ...p, history: way(p.history), faults: {}, trial: undefined }));
  });
};

// On another device of the studio, kept for when the laptop is out of reach; on the laptop itself the page is always there.
if (location.protocol === 'https:' && 'serviceWorker' in navigator)
  navigator.serviceWorker.register('/offline.js').catch((error: unknown) => console.warn('not kept:', error));

studioFromServer().then(open, (error: unknown) => {
  if (error instanceof NotLetIn) return askToJoin();
  const said = document.createElement('p');
  said.className = 'waiting wrong';
  said.setAttribute('role', 'alert');
  said.textContent = `The studio could not be read: ${error instanceof Error ? error.message : String(error)}. Is Afterfire still running? Start it with npm start, then reload this page.`;
  root.replaceChildren(said);
});
