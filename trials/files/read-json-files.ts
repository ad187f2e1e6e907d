import { type CheckedBrief, checkBrief } from '../schema/check-brief.ts';
import { InputFaults } from '../schema/faults.ts';
import { checkFormula, type Formula } from '../schema/formula.ts';
import { checkMaterials, type OwnShelf } from '../schema/own-materials.ts';
import { readJson } from './json-reader.ts';

/** Reads `brief.json`. @throws InputFaults with line, column and path of everything wrong */
export function readBrief(text: string, file: string): CheckedBrief {
  const { value, locate } = readJson(text, file);
  const judged = checkBrief(value, locate);
  if ('faults' in judged) throw new InputFaults(judged.faults);
  return judged;
}

/** Reads `formula.json`. @throws InputFaults with line, column and path of everything wrong */
export function readFormula(text: string, file: string): { formula: Formula; warnings: string[] } {
  const { value, locate } = readJson(text, file);
  const judged = checkFormula(value, locate);
  if ('faults' in judged) throw new InputFaults(judged.faults);
  return judged;
}

/** Reads `materials.json`. @throws InputFaults with line, column and path of everything wrong */
export function readMaterials(text: string, file: string): OwnShelf {
  const { value, locate } = readJson(text, file);
  const judged = checkMaterials(value, locate);
  if ('faults' in judged) throw new InputFaults(judged.faults);
  return judged;
}
