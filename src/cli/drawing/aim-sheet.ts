import type { WallMesh } from '../../kernel/mesh/mesh.ts';
import type { Aim } from '../../making/firing/aim/aim-contract.ts';
import type { Makeable } from '../../making/firing/makeable/makeable-contract.ts';
import { type Aimed, type AimsTold, handsTold } from '../words/aim-report.ts';
import { SAFETY_IN_BRIEF } from '../words/safety.ts';
import { differenceColour } from './ink.ts';
import { WANTED } from './legend.ts';
import type { Mark, Picture, ValueMap } from './picture.ts';
import { capital } from './pictures.ts';
import { type CutLine, cutSection, type Plane } from './section.ts';
import { drawSheet, roundAbove } from './sheet.ts';
import type { Flat } from './svg.ts';

/** What to make, what is wanted, and what the fire makes of it, laid over one another at true size. */

/** The scale of differences never ends below this, so that a piece that came out does not blaze. */
const LEAST_m = 0.0005;

interface View {
  readonly name: string;
  readonly plane: Plane;
}

/** A lying piece (axis along x) is cut along and across. */
const viewsOf = ({ input, wanted }: Aim): readonly View[] => {
  const along: View = { name: '', plane: { x0_m: 0, y0_m: 0, along_rad: 0 } };
  if (input.setting.attitude !== 'on its side') return [along];
  let [low, high] = [Infinity, -Infinity];
  for (let i = 0; i < wanted.positions.length; i += 3) {
    low = Math.min(low, wanted.positions[i]);
    high = Math.max(high, wanted.positions[i]);
  }
  const across = { x0_m: (low + high) / 2, y0_m: 0, along_rad: Math.PI / 2 };
  return [
    { ...along, name: ', along' },
    { name: ', across', plane: across },
  ];
};

/** The faces of a cut wall as lines. */
const facesOf = (line: CutLine): { line: Flat; closed: boolean }[] => {
  const outer = line.map((p) => [p.u_m + p.halfU_m, p.z_m + p.halfZ_m] as const);
  const inner = line.map((p) => [p.u_m - p.halfU_m, p.z_m - p.halfZ_m] as const);
  if (line.length > 3 && line[0] === line.at(-1))
    return [
      { line: outer, closed: true },
      { line: inner, closed: true },
    ];
  return [{ line: [...outer, ...inner.reverse()], closed: true }];
};

const still = (wall: WallMesh): Float64Array => new Float64Array(wall.thickness_m.length);

/** From signed differences to 0 … most, as the colours want them. */
const onScale = (difference_m: Float64Array, most_m: number): Float64Array =>
  difference_m.map((d) => (Math.max(-most_m, Math.min(most_m, Number.isFinite(d) ? d : 0)) + most_m) / 2);

/** Green lines are bone dry: cut where the fired piece is cut, at the same share of its length. */
const sameCut = (plane: Plane, { firedScale }: Aim): Plane => ({ ...plane, x0_m: plane.x0_m / firedScale });

const wantedMarks = (aim: Aim, plane: Plane): Mark[] =>
  cutSection(aim.wanted, still(aim.wanted), plane)
    .flatMap(facesOf)
    .map((face) => ({ ...face, bad: false, look: WANTED }));

const freePictures = ({ aim, called }: Aimed, most_m: number): Picture[] => {
  const found = Number.isFinite(aim.max_m);
  return viewsOf(aim).map(({ name, plane }, i) => ({
    caption: capital(called) + name,
    before: found ? cutSection(aim.green, still(aim.green), sameCut(plane, aim)) : [],
    after: found ? cutSection(aim.fired, onScale(aim.difference_m, most_m), plane) : [],
    marks: wantedMarks(aim, plane),
    sentences: i === 0 ? [aim.verdict.text, ...aim.warnings.map(({ text }) => `Look out: ${text}`)] : [],
  }));
};

/** Middle of the box about a shape, seen from above, m. */
const middleOf = (p: Float64Array): readonly [number, number] => {
  let box = [Infinity, -Infinity, Infinity, -Infinity];
  for (let i = 0; i < p.length; i += 3)
    box = [
      Math.min(box[0], p[i]),
      Math.max(box[1], p[i]),
      Math.min(box[2], p[i + 1]),
      Math.max(box[3], p[i + 1]),
    ];
  return [(box[0] + box[1]) / 2, (box[2] + box[3]) / 2];
};

/** Where on the shelf a piece lies is nothing: moved so that it can be compared by eye. */
const laidOn = (wall: WallMesh, { wanted }: Aim): WallMesh => {
  const [to, from] = [middleOf(wanted.positions), middleOf(wall.positions)];
  return {
    ...wall,
    positions: wall.positions.map((x, i) => (i % 3 === 2 ? x : x + to[i % 3] - from[i % 3])),
  };
};

const handPictures = ({ aim, called }: Aimed, hands: Makeable, most_m: number): Picture[] => {
  const { fired, firing } = hands;
  return viewsOf(aim).map(({ name, plane }, i) => ({
    caption: `${capital(called)}, made by hand${name}`,
    before: firing ? cutSection(firing.dry, still(firing.dry), sameCut(plane, aim)) : [],
    after: fired ? cutSection(laidOn(fired, aim), onScale(hands.difference_m, most_m), plane) : [],
    marks: wantedMarks(aim, plane),
    sentences: i === 0 ? [...handsTold(hands), ...hands.added] : [],
  }));
};

const mapOf = (aimed: readonly Aimed[]): ValueMap => {
  const all = aimed.flatMap(({ aim, hands }) => [aim.max_m, hands?.max_m ?? 0]).filter(Number.isFinite);
  return { most_m: roundAbove(Math.max(LEAST_m, ...all)), colour: differenceColour };
};

/** Guesses are told on the drawing too. */
const notesOf = (aimed: readonly Aimed[]): string[] => [
  ...new Set(aimed.flatMap(({ aim }) => aim.provenance.slice(0, 1))),
  SAFETY_IN_BRIEF,
];

export const aimSheet = ({ form, aimed, best, wall }: AimsTold): string => {
  const map = mapOf(aimed);
  const [{ aim }] = aimed;
  return drawSheet({
    title: `${form.name}: what to make`,
    subtitle: `Clay: ${aim.input.clay.name}. Schedule: ${aim.input.schedule.name}.`,
    what: 'what to make, what is wanted, and what the fire makes of it',
    legend: { kind: 'aim' },
    map,
    pictures: aimed.flatMap((one) => [
      ...freePictures(one, map.most_m),
      ...(one.hands ? handPictures(one, one.hands, map.most_m) : []),
    ]),
    notes: [...(best ? [best.text] : []), ...(wall ? [wall.text] : []), ...notesOf(aimed)],
  });
};
