import { Command } from 'commander';
import { badInput } from '../../error.ts';
import { fireTwins, type Twins } from '../../making/firing/compare-twins.ts';
import { handlingOfFiring } from '../../making/handling/handled-firing.ts';
import { compareHandling } from '../../making/handling/tell-handling.ts';
import { drive } from '../drive.ts';
import { engineHere } from '../engine.ts';
import {
  addFiringOptions,
  type FiringOptions,
  nameOf,
  type Planned,
  plannedFirings,
} from '../firing-options.ts';
import type { Io } from '../io.ts';
import type { Shown } from '../shown.ts';
import { firingJson } from '../words/firing-json.ts';
import { twinsReport } from '../words/twins-report.ts';
import { checkFolder, sheetOf, type Wanted, writeDrawing } from '../write-files.ts';

interface Options extends FiringOptions, Pick<Wanted, 'svg' | 'png' | 'out'> {
  readonly json?: true;
}

/** Both as they are shown side by side. */
const shownOf = ({ called, file }: Planned, { piece, plain, comparison }: Twins): Shown[] => [
  { firing: piece, called: `${called}, with its ${comparison.without}`, file },
  { firing: plain, called: `${called}, plain`, file: `${file}-plain` },
];

const inHandOf = ({ piece, plain, comparison }: Twins) => {
  const [one, other] = [handlingOfFiring(piece), handlingOfFiring(plain)];
  return {
    dry: compareHandling(one.dry, other.dry, comparison.without),
    fired: compareHandling(one.fired, other.fired, comparison.without),
  };
};
export type TwinsInHand = ReturnType<typeof inHandOf>;

const fireBoth = async (formFile: string, options: Options, io: Io): Promise<void> => {
  await checkFolder(options);
  const planned = await plannedFirings(formFile, options);
  const engine = engineHere();
  const answers: { plan: Planned; twins: Twins; inHand: TwinsInHand }[] = [];
  for (const plan of planned) {
    const twins = await drive(`firing ${plan.called}`, fireTwins(plan.input, undefined, engine), io);
    if (!twins)
      throw badInput(
        `${formFile}: form.alterations`,
        plan.input.form.alterations.map(({ kind }) => kind),
        'lobes, flutes or facets: without any the piece is its own plain twin',
      );
    answers.push({ plan, twins, inHand: inHandOf(twins) });
  }
  const shown = answers.flatMap(({ plan, twins }) => shownOf(plan, twins));
  if (options.json) {
    const told = answers.map(({ plan, twins: { piece, plain, comparison }, inHand }) => {
      const [one, other] = shownOf(plan, { piece, plain, comparison });
      return { comparison, inHand, piece: firingJson(one), plain: firingJson(other) };
    });
    io.out(`${JSON.stringify(told, null, 2)}\n`);
  } else
    io.out(answers.map(({ plan, twins, inHand }) => twinsReport(plan.called, twins, inHand)).join('\n\n'));
  const said = answers.flatMap(({ twins, inHand }) => [
    twins.comparison.text,
    `Fired, in the hand. ${inHand.fired.text}`,
  ]);
  const svg = sheetOf(`${answers[0].plan.input.form.name} and its plain twin`, shown, said);
  for (const path of await writeDrawing(`${nameOf(formFile)}-twins`, svg, options)) io.err(`wrote ${path}\n`);
};

export const twinsCommand = (io: Io): Command =>
  addFiringOptions(
    new Command('twins')
      .description('what lobes, flutes and facets bought: a form and its plain twin through the same fire')
      .argument('<form.json>', 'the form (see: afterfire schema form)'),
  )
    .option('--json', 'the answer as JSON in SI units')
    .option('--svg', 'draw both side by side, at true size')
    .option('--png', 'the same drawing as a picture')
    .option('--out <folder>', 'where the drawings go', '.')
    .action((formFile: string, options: Options) => fireBoth(formFile, options, io));
