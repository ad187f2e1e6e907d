import type { z } from 'zod';
import type { FaultList } from './faults.ts';

/** Where something stands inside a JSON document. */
export type JsonPath = readonly (string | number)[];

/** Says in words where a path is; files add their name, line and column. */
export type Locate = (path: JsonPath) => string;

/** Where rules that look across fields leave what they find. */
export interface Report {
  fault(path: JsonPath, found: unknown, allowed: string): void;
  warn(path: JsonPath, text: string): void;
}

/** `components[2].high`; a key that is no plain word is quoted. */
export function pathText(path: JsonPath): string {
  let text = '';
  for (const step of path) {
    if (typeof step === 'number') text += `[${step}]`;
    else if (/^[A-Za-z_][A-Za-z0-9_-]*$/.test(step)) text += text === '' ? step : `.${step}`;
    else text += `[${JSON.stringify(step)}]`;
  }
  return text;
}

/** What stands at a path, looking at own fields only. */
export function valueAt(value: unknown, path: JsonPath): unknown {
  let at = value;
  for (const step of path) {
    if (typeof at !== 'object' || at === null || !Object.hasOwn(at, step)) return undefined;
    at = (at as Record<string | number, unknown>)[step];
  }
  return at;
}

/** Turns what a zod schema found wrong into faults. */
export function addIssues(
  issues: readonly z.core.$ZodIssue[],
  value: unknown,
  locate: Locate,
  faults: FaultList,
): void {
  for (const issue of issues) {
    const path = issue.path.map((step) => (typeof step === 'number' ? step : String(step)));
    faults.add(locate(path), valueAt(value, path), allowedBy(issue));
  }
}

const KINDS: Record<string, string> = {
  number: 'a finite number',
  int: 'a whole number',
  string: 'text',
  array: 'a list',
  tuple: 'a list of two numbers',
  object: 'an object',
  record: 'an object',
  boolean: 'true or false',
};

function allowedBy(issue: z.core.$ZodIssue): string {
  if (issue.code === 'invalid_type') return own(issue) ?? KINDS[issue.expected] ?? issue.expected;
  if (issue.code === 'too_small') return own(issue) ?? smallest(issue);
  if (issue.code === 'too_big') return own(issue) ?? largest(issue);
  if (issue.code === 'invalid_value') return issue.values.map((value) => JSON.stringify(value)).join(' or ');
  return issue.message;
}

/** A message of the schema's own rather than the library's. */
function own(issue: z.core.$ZodIssue): string | null {
  return /^(Invalid input|Too (big|small))/.test(issue.message) ? null : issue.message;
}

function smallest(issue: z.core.$ZodIssueTooSmall): string {
  if (issue.origin === 'array') return `at least ${entries(Number(issue.minimum))}`;
  return issue.inclusive === false
    ? `a number above ${issue.minimum}`
    : `a number of at least ${issue.minimum}`;
}

function largest(issue: z.core.$ZodIssueTooBig): string {
  if (issue.origin === 'array') return `at most ${entries(Number(issue.maximum))}`;
  return issue.inclusive === false
    ? `a number below ${issue.maximum}`
    : `a number of at most ${issue.maximum}`;
}

function entries(count: number): string {
  return count === 1 ? '1 entry' : `${count} entries`;
}
