import { describeFault, InputFaults, showValue } from '../schema/faults.ts';
import { type JsonPath, type Locate, pathText } from '../schema/schema-faults.ts';

const DEEPEST = 64;

/** A JSON document that remembers where each value stands. */
export interface JsonDocument {
  value: unknown;
  /** `brief.json, line 7, column 12, components[2].high`; a missing field is placed at what should hold it. */
  locate: Locate;
}

/**
 * Reads JSON (RFC 8259), keeping line and column of every value. Fields named twice are refused, since one of the
 * two would be lost; `__proto__` is a field like any other.
 *
 * @param text the document, lines ended by LF
 * @param file its name, for messages
 * @throws InputFaults where the text is no JSON, with line and column
 */
export function readJson(text: string, file: string): JsonDocument {
  const scanner = new Scanner(text, file);
  const value = scanner.document();
  const locate = (path: JsonPath): string => {
    for (let length = path.length; length >= 0; length--) {
      const at = scanner.places.get(JSON.stringify(path.slice(0, length)));
      if (at !== undefined) return `${scanner.place(at)}${path.length === 0 ? '' : `, ${pathText(path)}`}`;
    }
    return `${file}, ${pathText(path)}`;
  };
  return { value, locate };
}

class Scanner {
  readonly places = new Map<string, number>();
  readonly #text: string;
  readonly #file: string;
  readonly #path: (string | number)[] = [];
  #at = 0;

  constructor(text: string, file: string) {
    this.#text = text;
    this.#file = file;
  }

  document(): unknown {
    const value = this.#value();
    this.#skip();
    if (this.#at < this.#text.length) this.#refuse('the end of the file');
    return value;
  }

  place(at: number): string {
    const before = this.#text.slice(0, at).split('\n');
    return `${this.#file}, line ${before.length}, column ${before.at(-1)!.length + 1}`;
  }

  #value(): unknown {
    this.#skip();
    if (this.#path.length > DEEPEST) this.#refuse(`at most ${DEEPEST} levels of nesting`);
    this.places.set(JSON.stringify(this.#path), this.#at);
    const sign = this.#text[this.#at];
    if (sign === '{') return this.#object();
    if (sign === '[') return this.#array();
    if (sign === '"') return this.#string();
    return this.#word();
  }

  #object(): Record<string, unknown> {
    const fields: [string, unknown][] = [];
    const seen = new Set<string>();
    this.#entries('}', () => {
      this.#skip();
      const at = this.#at;
      if (this.#text[at] !== '"') this.#refuse('a field name in double quotes');
      const key = this.#string();
      if (seen.has(key)) this.#refuse(`the field ${JSON.stringify(key)} once`, at);
      seen.add(key);
      this.#skip();
      if (this.#text[this.#at] !== ':') this.#refuse('a colon');
      this.#at += 1;
      fields.push([key, this.#inside(key)]);
    });
    return Object.fromEntries(fields);
  }

  #array(): unknown[] {
    const list: unknown[] = [];
    this.#entries(']', () => list.push(this.#inside(list.length)));
    return list;
  }

  #inside(step: string | number): unknown {
    this.#path.push(step);
    const value = this.#value();
    this.#path.pop();
    return value;
  }

  #entries(close: string, entry: () => void): void {
    this.#at += 1;
    this.#skip();
    if (this.#text[this.#at] === close) {
      this.#at += 1;
      return;
    }
    for (;;) {
      entry();
      this.#skip();
      const sign = this.#text[this.#at];
      if (sign !== ',' && sign !== close) this.#refuse(`a comma or ${close}`);
      this.#at += 1;
      if (sign === close) return;
    }
  }

  #string(): string {
    // biome-ignore lint/suspicious/noControlCharactersInRegex: bare control characters are what JSON refuses
    const match = this.#match(/"(?:[^"\\\u0000-\u001f]|\\(?:["\\/bfnrt]|u[0-9A-Fa-f]{4}))*"/y);
    if (match === null) return this.#refuse('text in double quotes, closed, without bare control characters');
    return JSON.parse(match) as string;
  }

  #word(): unknown {
    const at = this.#at;
    const match = this.#match(/true|false|null|-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?/y);
    if (match === null || /[\w.+-]/.test(this.#text[this.#at] ?? ''))
      return this.#refuse('a JSON value (text, number, true, false, null, list or object)', at);
    const value: unknown = JSON.parse(match);
    if (typeof value === 'number' && !Number.isFinite(value)) return this.#refuse('a finite number', at);
    return value;
  }

  #match(pattern: RegExp): string | null {
    pattern.lastIndex = this.#at;
    const match = pattern.exec(this.#text)?.[0] ?? null;
    if (match !== null) this.#at += match.length;
    return match;
  }

  #skip(): void {
    this.#match(/[ \t\n\r]*/y);
  }

  #refuse(allowed: string, at = this.#at): never {
    const rest = /^[\w.+-]+|^"[^"\n]{0,30}"?|^[^\s]/u.exec(this.#text.slice(at, at + 40))?.[0];
    const found = at < this.#text.length ? showValue(rest) : 'the end of the file';
    throw new InputFaults([describeFault(this.place(at), found, allowed)]);
  }
}
