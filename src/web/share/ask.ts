let old = false;
/** Whether the last answer was one kept on this device, for the laptop itself gave none. */
export const answerWasOld = (): boolean => old;

/** What went wrong, in the server's own words. */
export const askServer = async <T>(path: string, method = 'GET', body?: unknown): Promise<T> => {
  const answer = await fetch(path, {
    method,
    ...(body === undefined
      ? {}
      : { body: JSON.stringify(body), headers: { 'content-type': 'application/json' } }),
  });
  old = answer.headers.has('afterfire-last-seen');
  const said = (await answer.json().catch(() => ({}))) as T & { error?: { message: string } };
  if (!answer.ok) throw new Error(said.error?.message ?? `the server answered ${answer.status}`);
  return said;
};
