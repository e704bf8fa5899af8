/** What every SVG drawing writes alike. */
export const escaped = (text: string): string =>
  text.replace(/[&<>"]/g, (c) => ({ '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' })[c] ?? c);

/** A length in mm with the hundredths that a printer could still show. */
export const mm = (x: number): string => String(Math.round(x * 100) / 100 || 0);
