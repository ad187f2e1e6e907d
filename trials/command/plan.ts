import type { Command } from 'commander';
import { PLANNED_MODELS, type PlannedModel } from '../../engine/design/terms.ts';
import { type PlanDocument, planOperation } from '../rounds/operations.ts';
import type { Brief } from '../schema/brief.ts';
import { loadSolver } from '../solver.ts';
import { answer } from './answer.ts';
import { briefFrom, mixesFrom } from './input-files.ts';
import type { Io } from './io.ts';
import { mixColumns, mixRow } from './mix-columns.ts';
import { choiceOption, jsonOption, seedOption, wholeNumber, workersOption } from './option-values.ts';
import { short, textTable } from './text-table.ts';

interface Options {
  mixes: number;
  model?: PlannedModel;
  criterion?: 'average-variance' | 'determinant';
  already?: string;
  replicated?: number;
  workers: number;
  seed: number;
  json: boolean;
}

export function addPlan(program: Command, io: Io): void {
  program
    .command('plan')
    .description('the first (or an additional) set of mixes over the whole allowed region')
    .argument('<brief.json>', 'what is to be found')
    .requiredOption('--mixes <N>', 'how many mixes', wholeNumber(1, 1000))
    .addOption(choiceOption('--model <M>', 'what the mixes must be able to tell', PLANNED_MODELS))
    .addOption(
      choiceOption('--criterion <C>', 'what makes a set good', ['average-variance', 'determinant']).default(
        'average-variance',
      ),
    )
    .option('--already <mixes.csv>', 'what has been weighed before, to add to')
    .option('--replicated <R>', 'how many of the mixes are fresh weighings of others', wholeNumber(0, 1000))
    .addOption(workersOption())
    .addOption(seedOption())
    .addOption(jsonOption())
    .addHelpText('after', '\nExample: dropwise plan brief.json --mixes 12 --replicated 2 --json')
    .action((brief: string, options: Options) => runPlan(brief, options, io));
}

async function runPlan(file: string, options: Options, io: Io): Promise<void> {
  const { already, json, mixes, model, criterion, replicated, workers, seed } = options;
  const { brief, warnings } = await briefFrom(file);
  const weighed = already === undefined ? undefined : await mixesFrom(already, brief);
  const request = {
    ...{ brief, mixes, model, criterion, replicated, seed },
    already: weighed?.mixes,
    warnings: [...warnings, ...(weighed?.warnings ?? [])],
  };
  const result = await planOperation(request, { solver: await loadSolver(), workers });
  answer(io, result, json, (document) => showPlan(document, brief));
}

function showPlan(document: PlanDocument, brief: Brief): string {
  const { mixes, model, terms } = document;
  const rows = mixes.map((mix) => [mix.mix, ...mixRow(mix, brief), mix.why]);
  const columns = [{ title: 'mix' }, ...mixColumns(brief), { title: 'why' }];
  return [
    `${count(mixes.length, 'mix', 'mixes')} of ${brief.batch.grams} g for ${brief.name}; the ${model} model has ${count(terms.length, 'term', 'terms')}.\n`,
    textTable(columns, rows),
    `Average variance ${short(document.averageVariance)}, largest ${short(document.maximumVariance)} (in units of one cup's variance).\n`,
  ].join('\n');
}

function count(many: number, one: string, more: string): string {
  return `${many} ${many === 1 ? one : more}`;
}
