import type { Command } from 'commander';
import type { AssessorReading, AttributeReading } from '../../engine/panel/reading-types.ts';
import { panelOperation } from '../rounds/operations.ts';
import { answer } from './answer.ts';
import { checkRegion } from './check-region.ts';
import { briefFrom, scoresFrom } from './input-files.ts';
import type { Io } from './io.ts';
import { choiceOption, jsonOption, unusedSeedOption } from './option-values.ts';
import { short, shortP, textTable } from './text-table.ts';

interface Options {
  brief?: string;
  df: 'satterthwaite' | 'kenward-roger';
  json: boolean;
}

export function addPanel(program: Command, io: Io): void {
  program
    .command('panel')
    .description('how the panel worked')
    .argument('<scores.csv>', 'what was tasted')
    .option('--brief <brief.json>', 'the brief, so that scores are held against their scales')
    .addOption(
      choiceOption('--df <D>', 'degrees of freedom', ['satterthwaite', 'kenward-roger']).default(
        'satterthwaite',
      ),
    )
    .addOption(unusedSeedOption())
    .addOption(jsonOption())
    .addHelpText('after', '\nExample: dropwise panel scores.csv --brief brief.json')
    .action((scores: string, options: Options) => runPanel(scores, options, io));
}

async function runPanel(file: string, { brief: briefFile, df, json }: Options, io: Io): Promise<void> {
  const checked = briefFile === undefined ? undefined : await briefFrom(briefFile);
  const regional = checked === undefined ? [] : await checkRegion(checked.brief);
  const { attributes, servings, warnings } = await scoresFrom(file, { brief: checked?.brief });
  const told = [...(checked?.warnings ?? []), ...regional, ...warnings];
  answer(io, panelOperation({ servings, attributes, df, warnings: told }), json, showPanel);
}

function showPanel({ attributes }: ReturnType<typeof panelOperation>): string {
  return attributes.map(showAttribute).join('\n');
}

function showAttribute(reading: AttributeReading): string {
  const { id, says, reason, mixTest, variance, means, assessors } = reading;
  const head = `${id}: ${says}\n`;
  if (means.length === 0) return `${head}  ${reason ?? ''}\n`;
  const { f, numDf, denDf, p } = mixTest;
  return [
    head,
    textTable(
      [
        { title: 'mix' },
        { title: 'mean', numeric: true },
        { title: 'standard error', numeric: true },
        { title: 'cups', numeric: true },
      ],
      [...means]
        .sort((a, b) => b.mean - a.mean)
        .map((m) => [m.mix, short(m.mean), short(m.standardError, 3), String(m.cups)]),
    ),
    `  Mixes differ: F(${short(numDf)}, ${short(denDf)}) = ${short(f)}, p ${shortP(p)}.`,
    `  Variance: assessors ${short(variance.assessor)}, assessor by mix ${short(variance.assessorByMix)}, sessions ${short(variance.session)}, cups ${short(variance.residual)}.\n`,
    showAssessors(assessors),
  ].join('\n');
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
