import { readFile } from 'node:fs/promises';
import type { Limit } from '../../engine/bench/limits.ts';
import { readBrief, readFormula, readMaterials } from '../files/read-json-files.ts';
import { type LeftoversRead, readLeftovers } from '../files/read-leftovers.ts';
import { type MixesRead, readMixes } from '../files/read-mixes.ts';
import { type RatiosRead, readRatios } from '../files/read-ratios.ts';
import { readScores, type ScoresContext, type ScoresRead } from '../files/read-scores.ts';
import { decodeText } from '../files/text.ts';
import type { Brief } from '../schema/brief.ts';
import type { CheckedBrief } from '../schema/check-brief.ts';
import { describeFault, InputFaults } from '../schema/faults.ts';
import type { Formula } from '../schema/formula.ts';
import type { OwnShelf } from '../schema/own-materials.ts';
import { type Shelf, shelfOf } from '../shelf/shelf.ts';

const WHY: Readonly<Record<string, string>> = {
  ENOENT: 'no such file',
  ENOTDIR: 'no such file',
  EISDIR: 'a folder',
  EACCES: 'a file that may not be read',
  EPERM: 'a file that may not be read',
};

/** The text of a file. @throws InputFaults that name the file where it cannot be read or is no UTF-8 */
export async function textOf(file: string): Promise<string> {
  let bytes: Uint8Array;
  try {
    bytes = await readFile(file);
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code ?? '';
    throw new InputFaults([
      describeFault(file, WHY[code] ?? `an unreadable file (${code})`, 'a file that can be read'),
    ]);
  }
  return decodeText(bytes, file);
}

export async function briefFrom(file: string): Promise<CheckedBrief> {
  return readBrief(await textOf(file), file);
}

/** What the bench commands read: a formula, and the maker's own materials and limits where a file of them is named. */
export interface GivenFormula {
  formula: Formula;
  shelf: Shelf;
  limits: readonly Limit[];
  warnings: string[];
}

export async function formulaFrom(file: string, materials?: string): Promise<GivenFormula> {
  const [{ formula, warnings }, own] = await allRead([
    textOf(file).then((text) => readFormula(text, file)),
    ownShelfFrom(materials),
  ]);
  return {
    formula,
    shelf: shelfOf(own.materials),
    limits: own.limits,
    warnings: [...own.warnings, ...warnings],
  };
}

/** The maker's own materials and limits; nothing where no file is named. */
export async function ownShelfFrom(file: string | undefined): Promise<OwnShelf> {
  return file === undefined
    ? { materials: [], limits: [], warnings: [] }
    : readMaterials(await textOf(file), file);
}

/** Names the file in faults that are found only when its formula is put together with the shelf. */
export function namingFile<T>(file: string, use: () => T): T {
  try {
    return use();
  } catch (error) {
    if (!(error instanceof InputFaults)) throw error;
    throw new InputFaults(
      error.faults.map((fault) => ({
        ...fault,
        where: `${file}, ${fault.where}`,
        message: `${file}, ${fault.message}`,
      })),
    );
  }
}

export async function mixesFrom(file: string, brief: Brief): Promise<MixesRead> {
  return readMixes(await textOf(file), file, brief);
}

export async function scoresFrom(file: string, context: ScoresContext): Promise<ScoresRead> {
  return readScores(await textOf(file), file, context);
}

export async function ratiosFrom(file: string, brief: Brief): Promise<RatiosRead> {
  return readRatios(await textOf(file), file, brief);
}

export async function leftoversFrom(
  file: string,
  mixes: readonly { mix: string; blend: string }[],
): Promise<LeftoversRead> {
  return readLeftovers(await textOf(file), file, mixes);
}

/**
 * Brief, mixes and scores, as most commands take them; faults of the two tables are told together. Where
 * mixes.csv is itself at fault, the mixes of the scores are not held against it.
 *
 * @param age the column of the scores that holds the bottles' ages, where one is asked for
 */
export async function tastedFrom(briefFile: string, mixesFile: string, scoresFile: string, age?: string) {
  const { brief, warnings } = await briefFrom(briefFile);
  const mixesReading = mixesFrom(mixesFile, brief);
  const names = mixesReading.then(
    ({ mixes }) => mixes.map(({ mix }) => mix),
    () => undefined,
  );
  const scoresReading = names.then((known) => scoresFrom(scoresFile, { brief, mixes: known, age }));
  const [mixes, scores] = await allRead([mixesReading, scoresReading]);
  return {
    brief,
    mixes: mixes.mixes,
    servings: scores.servings,
    warnings: [...warnings, ...mixes.warnings, ...scores.warnings],
  };
}

/** Waits for all readings and tells the faults of every file that has some, not only of the first. */
export async function allRead<T extends readonly Promise<unknown>[]>(
  readings: readonly [...T],
): Promise<{ [K in keyof T]: Awaited<T[K]> }> {
  const settled = await Promise.allSettled(readings);
  const failed = settled.flatMap((one): unknown[] => (one.status === 'rejected' ? [one.reason] : []));
  const other = failed.find((error) => !(error instanceof InputFaults));
  if (other !== undefined) throw other;
  if (failed.length > 0) throw new InputFaults(failed.flatMap((error) => (error as InputFaults).faults));
  return settled.map((one) => (one as PromiseFulfilledResult<unknown>).value) as {
    [K in keyof T]: Awaited<T[K]>;
  };
}
