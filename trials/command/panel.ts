import type { Command } from 'commander';
import type { AssessorReading, AttributeReading, Test } from '../../engine/panel/reading-types.ts';
import { panelOperation } from '../rounds/operations.ts';
import { answer } from './answer.ts';
import { showLiking, showMap, showRight, showSteps } from './answers-text.ts';
import { showAside } from './aside-text.ts';
import { checkRegion } from './check-region.ts';
import { addCupOptions, type CupOptions, checkSetAside } from './cup-options.ts';
import { examples } from './examples.ts';
import { briefFrom, scoresFrom } from './input-files.ts';
import type { Io } from './io.ts';
import { jsonOption, seedOption } from './option-values.ts';
import { orderTable, short, shortP, textTable } from './text-table.ts';

interface Options extends CupOptions {
  brief?: string;
  map: boolean;
  seed: number;
  json: boolean;
}

export function addPanel(program: Command, io: Io): void {
  const command = program
    .command('panel')
    .description('how the panel worked')
    .argument('<scores.csv>', 'what was tasted')
    .option('--brief <brief.json>', 'the brief, so that scores are held against their scales');
  addCupOptions(command)
    .option('--map', 'draw the map of mixes and attributes, each mix with the region it may lie in', false)
    .addOption(seedOption())
    .addOption(jsonOption())
    .addHelpText(
      'after',
      [
        '',
        'A brief that says how a question is answered (form: categories, liking, just-about-right) or asks beside the scales',
        '(asides: ranking, describe) has those answers read as what they are; scores.csv holds places (1 = least) and words in',
        'columns named after the asides.',
      ].join('\n') +
        examples(
          'panel scores.csv --brief brief.json --map',
          'panel scores.csv --df kenward-roger --adjust --assessor-by-session --age hours --set-aside P3',
          'panel scores.csv --seed 1 --json',
        ),
    )
    .action((scores: string, options: Options) => runPanel(scores, options, io));
}

async function runPanel(
  file: string,
  { brief: briefFile, json, map, seed, ...options }: Options,
  io: Io,
): Promise<void> {
  const checked = briefFile === undefined ? undefined : await briefFrom(briefFile);
  const regional = checked === undefined ? [] : await checkRegion(checked.brief);
  const { attributes, servings, asides, warnings } = await scoresFrom(file, {
    brief: checked?.brief,
    age: options.age,
  });
  checkSetAside(options, servings, file);
  const told = [...(checked?.warnings ?? []), ...regional, ...warnings];
  const request = {
    servings,
    attributes,
    ...options,
    asides: { questions: checked?.brief.asides ?? [], answers: asides },
    mapSeed: map ? seed : undefined,
    warnings: told,
  };
  answer(io, panelOperation(request), json, showPanel);
}

function showPanel(document: ReturnType<typeof panelOperation>): string {
  const { attributes, asides, liking, map, age } = document;
  const counted = attributes.some((one) => one.age);
  return [
    ...(age && !counted ? [`${age.says}\n`] : []),
    ...attributes.map(showAttribute),
    ...(asides ?? []).map(showAside),
    ...(liking ? [showLiking(liking)] : []),
    ...(map ? [showMap(map, attributes)] : []),
  ].join('\n');
}

function showAttribute(reading: AttributeReading): string {
  const { id, says, reason, means, assessors, order, age } = reading;
  const head = `${id}: ${says}\n`;
  if (means.length === 0) return `${head}  ${reason ?? ''}\n`;
  return [
    head,
    meanTable(reading),
    ...tests(reading).map((line) => `  ${line}`),
    '',
    ...(age ? [`  ${age.says}`] : []),
    ...(order ? [orderTable(order)] : []),
    ...(reading.steps ? [showSteps(reading.steps)] : []),
    ...(reading.right ? [showRight(reading.right)] : []),
    showAssessors(assessors),
  ].join('\n');
}

function meanTable({ means, withEveryone }: AttributeReading): string {
  const everyone = new Map(withEveryone?.means.map(({ mix, mean }) => [mix, mean]));
  const titles = ['mean', 'standard error', 'cups', ...(withEveryone ? ['mean with everyone'] : [])];
  return textTable(
    [{ title: 'mix' }, ...titles.map((title) => ({ title, numeric: true }))],
    [...means]
      .sort((a, b) => b.mean - a.mean)
      .map((m) => [
        m.mix,
        short(m.mean),
        short(m.standardError, 3),
        String(m.cups),
        ...(withEveryone ? [short(everyone.get(m.mix))] : []),
      ]),
  );
}

function tests({
  mixTest,
  mixedAssessor,
  variance,
  withEveryone,
  shifts: shifting,
}: AttributeReading): string[] {
  const says = ({ f, numDf, denDf, p, reason }: Test) =>
    p === null
      ? `cannot be tested (${reason ?? ''})`
      : `F(${short(numDf)}, ${short(denDf)}) = ${short(f)}, p ${shortP(p)}`;
  const shifts =
    variance.assessorBySession === undefined
      ? ''
      : `, assessor by session ${short(variance.assessorBySession)}`;
  return [
    `Mixes differ: ${says(mixTest)}.`,
    ...(withEveryone ? [`The same with everyone: ${says(withEveryone.mixTest)}.`] : []),
    ...(mixedAssessor.mixTest.p === null
      ? []
      : [
          `With use of the scale told from disagreement: ${says(mixedAssessor.mixTest)}; use of the scale differs: ${says(mixedAssessor.scaling)}.`,
        ]),
    `Variance: assessors ${short(variance.assessor)}, assessor by mix ${short(variance.assessorByMix)}, sessions ${short(variance.session)}${shifts}, cups ${short(variance.residual)}.`,
    ...(shifting?.says ? [`Warning: ${shifting.says} (p ${shortP(shifting.p)}).`] : []),
  ];
}

function showAssessors(assessors: readonly AssessorReading[]): string {
  const rows = assessors.map(({ assessor, discrimination, repeatability, agreement, scaling, says }) => [
    assessor,
    shortP(discrimination.p),
    short(repeatability, 3),
    short(agreement, 2),
    short(scaling, 2),
    says,
  ]);
  const columns = [
    { title: 'assessor' },
    { title: 'tells mixes apart, p', numeric: true },
    { title: 'repeatability', numeric: true },
    { title: 'agreement', numeric: true },
    { title: 'scaling', numeric: true },
    { title: '' },
  ];
  return textTable(columns, rows);
}
