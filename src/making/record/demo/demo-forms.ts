import type { Clay } from '../../clay/clay.ts';
import { massBetween, type State, scaleBetween } from '../../clay/shrinkage.ts';
import { type Form, parseForm } from '../../form/form.ts';
import { measure } from '../../form/measure.ts';
import { meshForm } from '../../form/mesh-form.ts';

/** Three invented families: each form is a child of the one before it, a little taller, thicker or wider. */

export interface DemoForm {
  readonly series: string;
  readonly key: string;
  readonly form: Form;
  /** The key of the form it descends from. */
  readonly parent?: string;
  readonly attitude: 'upright' | 'rim down';
  /** How often it is lost in the fire. */
  readonly risk: number;
}

interface Change {
  readonly name: string;
  readonly higher: number;
  readonly thicker: number;
  readonly risk: number;
}

const FAMILIES = [
  {
    series: 'reed',
    name: 'Reed',
    from: 'tall-fluted-vase',
    attitude: 'upright',
    changes: [
      { name: 'Reed, first', higher: 1, thicker: 1, risk: 0.26 },
      { name: 'Reed, stouter foot', higher: 1, thicker: 1.12, risk: 0.16 },
      { name: 'Reed, low', higher: 0.82, thicker: 1.05, risk: 0.08 },
      { name: 'Reed, tall', higher: 1.08, thicker: 1.2, risk: 0.14 },
    ],
  },
  {
    series: 'water-plate',
    name: 'Water plate',
    from: 'wide-shallow-bowl',
    attitude: 'rim down',
    changes: [
      { name: 'Water plate, first', higher: 1, thicker: 1, risk: 0.24 },
      { name: 'Water plate, deeper', higher: 1.2, thicker: 1, risk: 0.14 },
      { name: 'Water plate, firm', higher: 1.15, thicker: 1.15, risk: 0.07 },
    ],
  },
  {
    series: 'hand-cup',
    name: 'Hand cup',
    from: 'oval-faceted-cup',
    attitude: 'upright',
    changes: [
      { name: 'Hand cup, first', higher: 1, thicker: 1, risk: 0.08 },
      { name: 'Hand cup, tall', higher: 1.15, thicker: 1, risk: 0.1 },
    ],
  },
] as const satisfies readonly {
  readonly series: string;
  readonly name: string;
  readonly from: string;
  readonly attitude: DemoForm['attitude'];
  readonly changes: readonly Change[];
}[];

export const DEMO_SERIES = FAMILIES.map(({ series, name }) => ({ key: series, name }));
export const DEMO_NEEDS = FAMILIES.map(({ from }) => from);

const rounded = (value: number): number => Math.round(value * 100) / 100;

const changed = (form: Form, { name, higher, thicker }: Change): Form =>
  parseForm({
    ...form,
    name,
    line: form.line.map((point) => ({ ...point, height_mm: rounded(point.height_mm * higher) })),
    wall: form.wall.map((at) => ({ ...at, thickness_mm: rounded(at.thickness_mm * thicker) })),
  });

/** @param forms the forms the families begin with, by key */
export const demoForms = (forms: Readonly<Record<string, Form>>): DemoForm[] =>
  FAMILIES.flatMap(({ series, from, attitude, changes }) =>
    changes.map((change, i) => ({
      series,
      key: `${series}-${i + 1}`,
      form: changed(forms[from], change),
      ...(i === 0 ? {} : { parent: `${series}-${i}` }),
      attitude,
      risk: change.risk,
    })),
  );

const TRIANGLES = 800;

/** What a form weighs and how high it stands in one state of its clay, shrunk and not yet sagged. */
export const sizeIn = (
  state: State,
  form: Form,
  clay: Clay,
): { readonly weight_g: number; readonly height_mm: number } => {
  const drawn: State = form.sizes === 'thrown' ? 'wet' : 'fired';
  const density =
    (clay.boneDryDensity.value_kg_m3 * massBetween(clay, 'dry', state)) /
    scaleBetween(clay, 'dry', state) ** 3;
  const { weight_kg, height_m } = measure(
    meshForm(form, { triangles: TRIANGLES, scale: scaleBetween(clay, drawn, state) }),
    density,
  );
  return { weight_g: weight_kg * 1000, height_mm: height_m * 1000 };
};
