import { celsiusFromFahrenheit } from '../../units.ts';
import type { Degrees } from '../words.ts';

/** A line of a thermometer's log, as a test-pieces file keeps it. */
export interface LogLine {
  readonly time_h: number;
  readonly temperature_C: number;
}

export type TimeUnit = 'hours' | 'minutes';

const NUMBER = /^[+\-−]?\d+([.,]\d+)?$/;
const CLOCK = /^(\d+):(\d{2})(?::(\d{2}))?$/;

const number = (text: string): number | undefined =>
  NUMBER.test(text) ? Number(text.replace(',', '.').replace('−', '-')) : undefined;

/** `1:30` is an hour and a half whatever the unit; a plain number is in the unit. */
const hours = (text: string, unit: TimeUnit): number | undefined => {
  const clock = CLOCK.exec(text);
  if (clock) return Number(clock[1]) + Number(clock[2]) / 60 + Number(clock[3] ?? 0) / 3600;
  const value = number(text);
  return value === undefined ? undefined : unit === 'hours' ? value : value / 60;
};

/** Between numbers: a tab, a semicolon or spaces; a comma where no space stands and points are points. */
const cellsOf = (line: string): string[] => {
  const cells = line.trim().split(/[;\t]+\s*|,\s+|\s+/);
  return cells.length >= 2 ? cells : line.trim().split(',');
};

/**
 * A log as it was pasted: a time and a temperature a line; lines of words (a heading) before the first are passed over.
 * @returns the log, or what is wrong with it, in words
 */
export const logTyped = (text: string, unit: TimeUnit, degrees: Degrees): readonly LogLine[] | string => {
  const log: LogLine[] = [];
  const lines = text.split(/\r?\n/);
  for (const [i, line] of lines.entries()) {
    if (line.trim() === '') continue;
    const [first = '', second = ''] = cellsOf(line);
    const time_h = hours(first, unit);
    const shown = number(second.replace(/°?[CF]$/, ''));
    if (time_h === undefined || shown === undefined) {
      if (log.length === 0) continue;
      return `Line ${i + 1}, “${line.trim().slice(0, 40)}”, will not do: a time and a temperature, such as 1:30 650.`;
    }
    const temperature_C = degrees === 'C' ? shown : celsiusFromFahrenheit(shown);
    const before = log.at(-1);
    if (before && time_h <= before.time_h)
      return `Line ${i + 1}, “${line.trim().slice(0, 40)}”, will not do: its time is not later than the line before.`;
    log.push({ time_h, temperature_C: Math.round(10 * temperature_C) / 10 });
  }
  return log.length >= 2 ? log : 'No log in this: at least two lines, each a time and a temperature.';
};
