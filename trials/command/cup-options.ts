import { type Command, Option } from 'commander';
import type { Serving } from '../../engine/panel/observations.ts';
import { InputFaults, makeFault } from '../schema/faults.ts';
import { choiceOption, nameList } from './option-values.ts';

/** What may be said of the model of a cup, alike for every command that fits one. */
export interface CupOptions {
  df: 'satterthwaite' | 'kenward-roger';
  adjust: boolean;
  assessorBySession: boolean;
  setAside: string[];
  age?: string;
}

export function addCupOptions(command: Command): Command {
  return command
    .addOption(
      choiceOption('--df <D>', 'degrees of freedom', ['satterthwaite', 'kenward-roger']).default(
        'satterthwaite',
      ),
    )
    .addOption(ageOption())
    .option('--adjust', 'take out the place in the sitting and the cup before', false)
    .option('--assessor-by-session', 'let assessors shift their levels from session to session', false)
    .option(
      '--set-aside <P1,P2,…>',
      'read without these assessors, and show the reading with them',
      nameList,
      [],
    );
}

/** The column of scores.csv that says how old the bottles were; without it age is not looked at. */
export function ageOption(): Option {
  return new Option(
    '--age <column>',
    'the column of scores.csv that holds how many hours each bottle had stood: counted where it can be told',
  );
}

/** @throws InputFaults where nobody of that name tasted, or nobody would be left */
export function checkSetAside(
  { setAside }: Pick<CupOptions, 'setAside'>,
  servings: readonly Serving[],
  file: string,
): void {
  const known = [...new Set(servings.map(({ assessor }) => assessor))];
  const faults = setAside
    .filter((name) => !known.includes(name))
    .map((name) => makeFault(`--set-aside, ${file}`, name, `an assessor who tasted: ${known.join(', ')}`));
  if (faults.length > 0) throw new InputFaults(faults);
  if (setAside.length > 0 && known.every((name) => setAside.includes(name)))
    throw new InputFaults([
      makeFault('--set-aside', setAside.join(','), 'names that leave at least one assessor'),
    ]);
}
