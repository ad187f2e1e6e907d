/**
 * The examples at the end of a command's help, a line each. Together they show every option once, so that nobody has to
 * guess how its value is written.
 */
export function examples(...lines: readonly string[]): string {
  return lines.map((line) => `\nExample: dropwise ${line}`).join('');
}
