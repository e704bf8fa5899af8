import { expect, test } from 'vitest';
import { dice, type Throw } from '../../../../test/dice.ts';
import { AfterfireError } from '../../../error.ts';
import { boundaryLoops, sheetFaults } from '../../../kernel/mesh/edges.ts';
import { type Form, parseForm } from '../form.ts';
import { meshForm } from '../mesh-form.ts';
import { MOTIFS } from './carving-shape.ts';

const someCarving = (between: Throw): object => ({
  ...(between(0, 1) < 0.25
    ? { kind: 'relief', depth_mm: between(0.2, 1.5), bevel_mm: between(0, 4) }
    : { kind: 'opening' }),
  outline: { motif: MOTIFS[Math.floor(between(0, MOTIFS.length))] },
  width_mm: between(3, 30),
  height_mm: between(3, 40),
  turn_deg: between(-90, 90),
  along: between(0.15, 0.85),
  angle_deg: between(0, 360),
  count: Math.floor(between(1, 20)),
  rows: Math.floor(between(1, 4)),
  staggered: between(0, 1) > 0.5,
});

const someForm = (between: Throw): object => {
  let height_mm = 0;
  const line = Array.from({ length: Math.floor(between(2, 6)) }, (_, i) => {
    if (i > 0) height_mm += between(20, 80);
    return { radius_mm: between(25, 110), height_mm };
  });
  const feet = [
    { kind: 'disc', thickness_mm: between(2, 8) },
    { kind: 'ring', thickness_mm: between(2, 6), width_mm: between(3, 12), recess_mm: between(1, 8) },
    { kind: 'none' },
  ];
  const lobes = {
    kind: 'lobes',
    count: Math.floor(between(2, 20)),
    depth: [
      { along: 0.1, depth_mm: between(-6, 6) },
      { along: 0.9, depth_mm: between(-6, 6) },
    ],
    roundness: between(0, 1),
    twist_deg: between(-200, 200),
  };
  const others = [
    lobes,
    { kind: 'oval', longer_percent: between(0, 40) },
    { kind: 'cut lip', count: Math.floor(between(1, 8)), depth_mm: between(0, 15) },
  ];
  return {
    afterfire: 'form/1',
    name: 'from the dice',
    sizes: 'thrown',
    line,
    wall: [{ along: 0, thickness_mm: between(2.5, 6) }],
    foot: feet[Math.floor(between(0, 3))],
    alterations: others.slice(0, Math.floor(between(0, 4))),
    carving: Array.from({ length: Math.floor(between(1, 3)) }, () => someCarving(between)),
  };
};

test('carved forms from the dice: refused in words, or one clean sheet with a rim for each opening shown', () => {
  const between = dice(3);
  let [read, pierced] = [0, 0];
  for (let k = 0; k < 160 && read < 25; k++) {
    const json = someForm(between);
    let form: Form;
    try {
      form = parseForm(json);
    } catch (error) {
      expect(error).toBeInstanceOf(AfterfireError);
      continue;
    }
    read++;
    const wish = between(600, 5000);
    const mesh = meshForm(form, { triangles: wish, scale: 1 });
    const nodes = mesh.thickness_m.length;
    expect(Object.values(sheetFaults(mesh.triangles, nodes))).toEqual([0, 0, 0, 0]);
    const rims = mesh.carved?.rims.length ?? 0;
    expect(boundaryLoops(mesh.triangles, nodes)).toHaveLength(rims + (form.foot.kind === 'none' ? 2 : 1));
    expect(mesh.positions.every(Number.isFinite)).toBe(true);
    expect(mesh.thickness_m.every((t) => t > 0)).toBe(true);
    expect(mesh.triangles.length / 3 / wish).toBeGreaterThan(0.7);
    expect(mesh.triangles.length / 3 / wish).toBeLessThan(1.6);
    if (rims > 0) pierced++;
  }
  expect(read).toBe(25);
  expect(pierced).toBeGreaterThan(10);
});
