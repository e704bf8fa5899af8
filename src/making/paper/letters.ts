/**
 * Widths of the letters of DejaVu Sans, which every print of ours carries with it, so that lines can be broken and kept
 * inside margins without reading a font. In 1/2048 of the letter size; compared with the font itself in the test beside.
 */
export const LETTERS =
  ' !"#$%&\'()*+,-./0123456789:;<=>?@ABCDEFGHIJKLMNOPQRSTUVWXYZ[\\]^_`abcdefghijklmnopqrstuvwxyz{|}~°±²³⁴×÷·½µ–—‘’“”…≤≥→ρηφ√∫';
export const PLAIN: readonly number[] = [
  651, 821, 942, 1716, 1303, 1946, 1597, 563, 799, 799, 1024, 1716, 651, 739, 651, 690, 1303, 1303, 1303,
  1303, 1303, 1303, 1303, 1303, 1303, 1303, 690, 690, 1716, 1716, 1716, 1087, 2048, 1401, 1405, 1430, 1577,
  1294, 1178, 1587, 1540, 604, 604, 1343, 1141, 1767, 1532, 1612, 1235, 1612, 1423, 1300, 1251, 1499, 1401,
  2025, 1403, 1251, 1403, 799, 690, 799, 1716, 1024, 1024, 1255, 1300, 1126, 1300, 1260, 721, 1300, 1298, 569,
  569, 1186, 569, 1995, 1298, 1253, 1300, 1300, 842, 1067, 803, 1298, 1212, 1675, 1212, 1212, 1075, 1303, 690,
  1303, 1716, 1024, 1716, 821, 821, 821, 1716, 1716, 651, 1985, 1303, 1024, 2048, 651, 651, 1061, 1061, 2048,
  1716, 1716, 1716, 1300, 1298, 1351, 1305, 1067,
];
export const BOLD: readonly number[] = [
  713, 934, 1067, 1716, 1425, 2052, 1786, 627, 936, 936, 1071, 1716, 778, 850, 778, 748, 1425, 1425, 1425,
  1425, 1425, 1425, 1425, 1425, 1425, 1425, 819, 819, 1716, 1716, 1716, 1188, 2048, 1585, 1561, 1503, 1700,
  1399, 1399, 1681, 1714, 762, 762, 1587, 1305, 2038, 1714, 1741, 1501, 1741, 1577, 1475, 1397, 1663, 1585,
  2259, 1579, 1483, 1485, 936, 748, 936, 1716, 1024, 1024, 1382, 1466, 1214, 1466, 1389, 891, 1466, 1458, 702,
  702, 1362, 702, 2134, 1458, 1407, 1466, 1466, 1010, 1219, 979, 1458, 1335, 1892, 1321, 1335, 1192, 1458,
  748, 1458, 1716, 1024, 1716, 897, 897, 897, 1716, 1716, 778, 2120, 1507, 1024, 2048, 778, 778, 1346, 1346,
  2048, 1716, 1716, 1716, 1466, 1458, 1602, 1366, 1249,
];
const UNITS = 2048;
/** Of the letter size, above and below the line they stand on: the font's own ascent and descent. */
export const ASCENT = 0.928;
export const DESCENT = 0.236;

const index = new Map([...LETTERS].map((letter, i) => [letter, i]));

/** Width of a line of text in mm, letters side by side without kerning (which only draws them closer). */
export const textWidth_mm = (text: string, size_mm: number, bold = false): number => {
  const widths = bold ? BOLD : PLAIN;
  let sum = 0;
  // A letter not in the list counts as a whole em, wider than nearly all.
  for (const letter of text) sum += widths[index.get(letter) ?? -1] ?? UNITS;
  return (sum * size_mm) / UNITS;
};

/** Words laid into lines no wider than this; a word wider than a line stands alone. */
export const brokenInto = (text: string, width_mm: number, size_mm: number, bold = false): string[] => {
  const lines: string[] = [];
  for (const word of text.split(/\s+/)) {
    const last = lines.at(-1);
    const longer = last === undefined ? word : `${last} ${word}`;
    if (last !== undefined && textWidth_mm(longer, size_mm, bold) <= width_mm)
      lines[lines.length - 1] = longer;
    else lines.push(word);
  }
  return lines;
};
