import { availableParallelism } from 'node:os';
import { InvalidArgumentError, Option } from 'commander';
import { parseNumber } from '../files/number-text.ts';
import { Id, Name } from '../schema/brief.ts';

/** Reads a whole number of at least `least` (and at most `most`) from the command line. */
export function wholeNumber(least: number, most = 1_000_000): (text: string) => number {
  return (text) => {
    const value = /^\d+$/.test(text) ? Number(text) : Number.NaN;
    if (value >= least && value <= most) return value;
    throw new InvalidArgumentError(`Allowed: a whole number from ${least} to ${most}.`);
  };
}

interface Range {
  above?: number;
  least?: number;
  below?: number;
  most?: number;
}

/** Reads a finite decimal number within a range from the command line. */
export function decimal(range: Range = {}): (text: string) => number {
  return (text) => {
    const value = parseNumber(text, false);
    if (value !== null && within(value, range)) return value;
    throw new InvalidArgumentError(`Allowed: ${sayRange(range)}.`);
  };
}

function within(value: number, { above, least, below, most }: Range): boolean {
  return (
    (above === undefined || value > above) &&
    (least === undefined || value >= least) &&
    (below === undefined || value < below) &&
    (most === undefined || value <= most)
  );
}

function sayRange({ above, least, below, most }: Range): string {
  const sides = [
    ...(above === undefined ? [] : [`above ${above}`]),
    ...(least === undefined ? [] : [`at least ${least}`]),
    ...(below === undefined ? [] : [`below ${below}`]),
    ...(most === undefined ? [] : [`at most ${most}`]),
  ];
  return sides.length === 0 ? 'a number' : `a number ${sides.join(' and ')}`;
}

/** Reads names parted by commas, each once. */
export function nameList(text: string): string[] {
  const names = text.split(',');
  const wrong = names.find((name) => name.trim() === '' || !Name.safeParse(name).success);
  if (wrong !== undefined)
    throw new InvalidArgumentError('Allowed: names of 1 to 80 characters, parted by commas.');
  const again = names.find((name, index) => names.indexOf(name) !== index);
  if (again !== undefined) throw new InvalidArgumentError(`Allowed: each name once (${again} stands twice).`);
  return names;
}

/** Reads `id=grams` of an option that may be given several times; each id once. */
export function gramsById(text: string, before: Record<string, number> = {}): Record<string, number> {
  const [id = '', amount = '', ...more] = text.split('=');
  const grams = parseNumber(amount, false);
  if (more.length > 0 || !Id.safeParse(id).success || grams === null || grams < 0)
    throw new InvalidArgumentError('Allowed: the id of a component, =, and grams of 0 or more.');
  if (Object.hasOwn(before, id))
    throw new InvalidArgumentError(`Allowed: each component once (${id} stands twice).`);
  return { ...before, [id]: grams };
}

/** Reads one name. */
export function oneName(text: string): string {
  if (text.trim() !== '' && Name.safeParse(text).success) return text;
  throw new InvalidArgumentError('Allowed: 1 to 80 characters, none of them a control character.');
}

/** An option that takes one of a few words. */
export function choiceOption(flags: string, says: string, words: readonly string[]): Option {
  return new Option(flags, says).choices([...words]);
}

export function seedOption(): Option {
  return new Option('--seed <S>', 'start of every random choice, 0 to 4294967295')
    .argParser(wholeNumber(0, 4_294_967_295))
    .default(1);
}

/** The same for commands that draw nothing: scripts may give it to every command. */
export function unusedSeedOption(): Option {
  return seedOption().hideHelp();
}

/** How many threads search; it changes the time that a result takes, never the result. */
export function workersOption(): Option {
  return new Option('--workers <W>', 'threads that search at once (the result is the same)')
    .argParser(wholeNumber(1, 64))
    .default(Math.min(4, availableParallelism()), 'those of this machine, at most 4');
}

export function jsonOption(): Option {
  return new Option('--json', 'one JSON document instead of a table').default(false);
}

/** Reads `3/4,2/4`: right of how many, taster by taster. */
export function eachTaster(text: string): { correct: number; trials: number }[] {
  const found = text.split(',').map((part) => /^(\d{1,6})\/(\d{1,6})$/.exec(part.trim()));
  const read = found.map((parts) => ({ correct: Number(parts?.[1]), trials: Number(parts?.[2]) }));
  if (read.length < 2 || !read.every(({ correct, trials }) => trials >= 1 && correct <= trials))
    throw new InvalidArgumentError('Allowed: right/tastings for two tasters or more, such as 3/4,2/4.');
  return read;
}

/** Reads `1101`: right and wrong answers in turn. */
export function answerMarks(text: string): boolean[] {
  if (!/^[01]{1,100000}$/.test(text))
    throw new InvalidArgumentError('Allowed: 1 for each right and 0 for each wrong answer, in turn.');
  return [...text].map((mark) => mark === '1');
}

/** Materials and limits of one's own; what a formula or brief names is looked for here before the starter shelf. */
export function materialsOption(): Option {
  return new Option(
    '--materials <materials.json>',
    'materials and limits of your own, before the starter shelf',
  );
}
