import { plainText } from '../schema/faults.ts';
import type { Io } from './io.ts';

/**
 * Prints a result: as one JSON document, or as the text that `show` makes of it. Warnings go to standard error
 * either way (they stand in the document too).
 */
export function answer<T extends object>(
  io: Io,
  result: T,
  json: boolean,
  show: (result: T) => string,
): void {
  const text = json ? `${jsonText(result)}\n` : show(result);
  for (const warning of warningsOf(result)) io.err(`warning: ${plainText(warning)}\n`);
  io.out(text);
}

function warningsOf(result: object): readonly string[] {
  return 'warnings' in result && Array.isArray(result.warnings) ? result.warnings.map(String) : [];
}

/**
 * JSON in which every number reads back as the same double.
 * @throws Error where a number is not finite: JSON has none such, and a null in its place would hide it
 */
export function jsonText(value: unknown): string {
  return JSON.stringify(
    value,
    (key, inner: unknown) => {
      if (typeof inner === 'number' && !Number.isFinite(inner))
        throw new Error(
          `the result holds ${inner} as ${JSON.stringify(key)}, which is a fault of this program`,
        );
      return inner;
    },
    2,
  );
}
