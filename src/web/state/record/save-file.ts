/** Files that the server makes, handed to the person as they are. */

const nameIn = (answer: Response): string =>
  /filename="([^"]+)"/.exec(answer.headers.get('content-disposition') ?? '')?.[1] ?? 'afterfire';

const saidIn = (answer: Response): readonly string[] => {
  const said = answer.headers.get('afterfire-said');
  return said === null ? [] : (JSON.parse(decodeURIComponent(said)) as string[]);
};

/**
 * Asks for a file and keeps it among the downloads. Throws in the server's own words.
 * @returns its name, and what the server said about it, a line each
 */
export const saveFile = async (
  path: string,
): Promise<{ readonly name: string; readonly said: readonly string[] }> => {
  const answer = await fetch(`/api/record${path}`);
  if (!answer.ok) {
    const { error } = (await answer.json().catch(() => ({}))) as { error?: { message: string } };
    throw new Error(error?.message ?? `the server answered ${answer.status}`);
  }
  const name = nameIn(answer);
  const address = URL.createObjectURL(await answer.blob());
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
  return { name, said: saidIn(answer) };
};
