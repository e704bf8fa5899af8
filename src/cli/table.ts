/** Rows of words as columns of even width; the first column to the left, numbers to the right. */
export const table = (head: readonly string[], rows: readonly (readonly string[])[]): string => {
  const all = [head, ...rows];
  const widths = head.map((_, column) => Math.max(...all.map((row) => (row[column] ?? '').length)));
  const line = (row: readonly string[]): string =>
    row
      .map((cell, column) => (column === 0 ? cell.padEnd(widths[column]) : cell.padStart(widths[column])))
      .join('  ')
      .trimEnd();
  const rule = widths.map((width) => '─'.repeat(width)).join('  ');
  return `${[line(head), rule, ...rows.map(line)].join('\n')}\n`;
};
