import { FaultList, type Refused } from './faults.ts';
import { Formula } from './formula-shape.ts';
import { addIssues, type Locate, pathText } from './schema-faults.ts';
import { unknownFields } from './unknown-fields.ts';

export { Formula } from './formula-shape.ts';

/** Judges a formula: shape, then that something has been weighed at all. */
export function checkFormula(
  value: unknown,
  locate: Locate = pathText,
): { formula: Formula; warnings: string[] } | Refused {
  const faults = new FaultList();
  const parsed = Formula.safeParse(value);
  if (!parsed.success) addIssues(parsed.error.issues, value, locate, faults);
  else if (parsed.data.lines.every(({ grams }) => grams === 0))
    faults.addWords(locate(['lines']), 'masses that are all zero', 'at least one mass above 0');
  if (!parsed.success || faults.count > 0) return { faults: faults.list() };
  const warnings = unknownFields(Formula, value).map((path) => `${locate(path)}: unknown field, passed over`);
  return { formula: parsed.data, warnings };
}
