import { expect, test } from 'vitest';
import {
  daysBetween,
  hoursBetween,
  instantOf,
  isInstant,
  isZone,
  monthInWords,
  wallClock,
} from './instant.ts';

// Source: the IANA time zone database (tzdata), rules EU and US; the very instants below are printed by `zdump -v`.
test('Berlin, 29 March 2026: clocks go from 02:00 to 03:00 at 01:00 UTC; a drying window loses no real hour', () => {
  expect(wallClock('2026-03-29T00:59:59.000Z', 'Europe/Berlin').time).toBe('01:59:59');
  expect(wallClock('2026-03-29T01:00:00.000Z', 'Europe/Berlin').time).toBe('03:00:00');
  const [from, to] = ['2026-03-28 20:00', '2026-03-29 20:00'].map((at) => instantOf(at, 'Europe/Berlin'));
  // A day on the wall, 23 hours for the clay.
  expect(hoursBetween(from, to)).toBe(23);
});

test('New York, 1 November 2026: clocks go from 02:00 back to 01:00 at 06:00 UTC; the window gains an hour', () => {
  expect(wallClock('2026-11-01T05:59:59.000Z', 'America/New_York').time).toBe('01:59:59');
  expect(wallClock('2026-11-01T06:00:00.000Z', 'America/New_York').time).toBe('01:00:00');
  const [from, to] = ['2026-10-31 18:00', '2026-11-01 18:00'].map((at) => instantOf(at, 'America/New_York'));
  expect(hoursBetween(from, to)).toBe(25);
});

test('the hour that comes twice is the first one unless the second is asked for', () => {
  const zone = 'America/New_York';
  expect(instantOf('2026-11-01 01:30', zone)).toBe('2026-11-01T05:30:00.000Z');
  expect(instantOf('2026-11-01 01:30', zone, 'second')).toBe('2026-11-01T06:30:00.000Z');
  expect(instantOf('2026-11-01 03:30', zone, 'second')).toBe(instantOf('2026-11-01 03:30', zone));
});

test('an hour that was skipped is no time, and is refused in words', () => {
  expect(() => instantOf('2026-03-29 02:30', 'Europe/Berlin')).toThrow(
    /at: got "2026-03-29 02:30".*put forward/,
  );
});

// Lord Howe Island moves by half an hour (tzdata, rule LH); Apia skipped 30 December 2011 altogether (rule WS).
test('zones with other rules', () => {
  expect(instantOf('2026-10-04 02:30', 'Australia/Lord_Howe')).toBe('2026-10-03T15:30:00.000Z');
  expect(() => instantOf('2026-10-04 02:10', 'Australia/Lord_Howe')).toThrow(/put forward/);
  expect(() => instantOf('2011-12-30 12:00', 'Pacific/Apia')).toThrow(/put forward/);
  expect(instantOf('2026-07-01 12:00', 'Asia/Kathmandu')).toBe('2026-07-01T06:15:00.000Z');
});

test('spring to autumn, there and back in five zones', () => {
  let n = 0;
  for (const zone of ['Europe/Berlin', 'America/New_York', 'Australia/Lord_Howe', 'Asia/Tokyo', 'UTC'])
    for (let ms = Date.UTC(2026, 2, 20); ms < Date.UTC(2026, 10, 10); ms += 6.75 * 3_600_000) {
      const at = new Date(ms).toISOString();
      const { day, time } = wallClock(at, zone);
      expect([instantOf(`${day} ${time}`, zone), instantOf(`${day} ${time}`, zone, 'second')]).toContain(at);
      n++;
    }
  expect(n).toBeGreaterThan(4000);
});

test('what is an instant, a zone, a month', () => {
  expect(isInstant('2026-03-29T01:00:00.000Z')).toBe(true);
  for (const no of [
    '2026-03-29',
    '2026-02-30T01:00:00.000Z',
    '2026-03-29T01:00:00Z',
    '2026-03-29T01:00:00.000+01:00',
  ])
    expect(isInstant(no), no).toBe(false);
  expect(isZone('Europe/Berlin')).toBe(true);
  for (const no of ['Europe/Atlantis', '+01:00', '', '../etc']) expect(isZone(no), no).toBe(false);
  expect(monthInWords('2026-11')).toBe('November 2026');
});

test('days between, over the change of the clocks and into the past', () => {
  expect(daysBetween('2026-03-28', '2026-03-30')).toBe(2);
  expect(daysBetween('2026-11-25', '2026-11-20')).toBe(-5);
});
