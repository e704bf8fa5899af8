import { expect, test } from 'vitest';
import { dice, type Throw } from '../../../test/dice.ts';
import { AfterfireError } from '../../error.ts';
import { boundaryLoops, sheetFaults } from '../../kernel/mesh/edges.ts';
import { type Form, parseForm } from './form.ts';
import { measure } from './measure.ts';
import { meshForm } from './mesh-form.ts';

const someAlteration = (between: Throw): unknown => {
  const kinds = [
    () => ({
      kind: 'lobes',
      count: Math.floor(between(2, 20)),
      depth: [
        { along: 0.1, depth_mm: between(-6, 6) },
        { along: 0.9, depth_mm: between(-6, 6) },
      ],
      roundness: between(0, 1),
      twist_deg: between(-200, 200),
    }),
    () => ({ kind: 'oval', longer_percent: between(0, 40) }),
    () => ({ kind: 'facets', count: Math.floor(between(3, 20)), flatness: between(0, 1) }),
    () => ({
      kind: 'push',
      angle_deg: between(0, 360),
      along: between(0.2, 1),
      reach_mm: between(5, 50),
      depth_mm: between(-8, 8),
    }),
    () => ({ kind: 'cut lip', count: Math.floor(between(1, 8)), depth_mm: between(0, 15) }),
  ];
  return kinds[Math.floor(between(0, kinds.length))]();
};

const someForm = (between: Throw): unknown => {
  let height_mm = 0;
  const line = Array.from({ length: Math.floor(between(2, 7)) }, (_, i) => {
    if (i > 0) height_mm += between(2, 80);
    return { radius_mm: between(15, 150), height_mm };
  });
  const feet = [
    { kind: 'disc', thickness_mm: between(2, 8) },
    { kind: 'ring', thickness_mm: between(2, 6), width_mm: between(3, 12), recess_mm: between(1, 8) },
    { kind: 'none' },
  ];
  return {
    afterfire: 'form/1',
    name: 'from the dice',
    sizes: 'thrown',
    line,
    wall: [
      { along: 0, thickness_mm: between(2, 8) },
      { along: 1, thickness_mm: between(1.5, 5) },
    ],
    foot: feet[Math.floor(between(0, 3))],
    alterations: Array.from({ length: Math.floor(between(0, 4)) }, () => someAlteration(between)),
  };
};

const someUneven = (between: Throw): unknown => ({
  offCentre_mm: between(0, 2),
  towards_deg: between(0, 360),
  callipers: Array.from({ length: Math.floor(between(0, 6)) }, () => ({
    along: between(0.05, 1),
    angle_deg: between(-360, 360),
    thickness_mm: between(1.5, 7),
  })),
});

test('two hundred forms from the dice: each is refused in words, or is one clean sheet with finite measures', () => {
  const between = dice(1);
  const unevenly = dice(2);
  let read = 0;
  let uneven = 0;
  for (let k = 0; k < 200; k++) {
    const json = someForm(between) as object;
    let form: Form;
    try {
      form = parseForm(k % 2 ? { ...json, uneven: someUneven(unevenly) } : json);
    } catch (error) {
      expect(error).toBeInstanceOf(AfterfireError);
      continue;
    }
    read++;
    if (form.uneven) uneven++;
    const mesh = meshForm(form, { triangles: 2000, scale: 1 });
    const nodes = mesh.thickness_m.length;
    expect(Object.values(sheetFaults(mesh.triangles, nodes))).toEqual([0, 0, 0, 0]);
    expect(boundaryLoops(mesh.triangles, nodes)).toHaveLength(form.foot.kind === 'none' ? 2 : 1);
    expect(mesh.positions.every(Number.isFinite)).toBe(true);
    expect(mesh.thickness_m.every((t) => t > 0)).toBe(true);
    expect(Math.abs(mesh.triangles.length / 6000 - 1)).toBeLessThan(0.25);
    expect(Object.values(measure(mesh, 1700)).flat().every(Number.isFinite)).toBe(true);
  }
  expect(read).toBeGreaterThan(80);
  expect(uneven).toBeGreaterThan(25);
});
