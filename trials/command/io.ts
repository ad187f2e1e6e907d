/** Where a command's words go; tests gather them, the program prints them. */
export interface Io {
  /** Results, to standard output. */
  out(text: string): void;
  /** Messages, to standard error. */
  err(text: string): void;
}
