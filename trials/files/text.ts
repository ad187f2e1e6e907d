import { describeFault, InputFaults } from '../schema/faults.ts';

const MOST_BYTES = 64 * 1024 * 1024;
const ALLOWED = 'UTF-8 text';

/**
 * The text of a file: UTF-8, with or without a byte-order mark, lines ended by LF or CRLF (given back as LF).
 * Anything else is refused by name, with the line where it shows.
 */
export function decodeText(bytes: Uint8Array, file: string): string {
  if (bytes.length > MOST_BYTES) refuse(file, `${bytes.length} bytes`, `at most ${MOST_BYTES} bytes`);
  const other = otherEncoding(bytes);
  if (other !== null) refuse(file, other, ALLOWED);
  const text = new TextDecoder('utf-8').decode(bytes);
  if (text.includes('\ufffd')) refuseBrokenText(bytes, text, file);
  const lines = text.replaceAll('\r\n', '\n');
  const lone = lines.indexOf('\r');
  if (lone >= 0)
    refuse(`${file}, line ${lineAt(lines, lone)}`, 'a carriage return alone', 'lines ended by LF or CRLF');
  return lines;
}

/** Line number (first = 1) of a place in a text. */
export function lineAt(text: string, index: number): number {
  let line = 1;
  for (let at = text.indexOf('\n'); at >= 0 && at < index; at = text.indexOf('\n', at + 1)) line += 1;
  return line;
}

function refuse(where: string, found: string, allowed: string): never {
  throw new InputFaults([describeFault(where, found, allowed)]);
}

/** Byte-order marks and signatures of what is plainly something else. */
const SIGNATURES: readonly [readonly number[], string][] = [
  [[0xff, 0xfe, 0, 0], 'UTF-32 (little-endian)'],
  [[0, 0, 0xfe, 0xff], 'UTF-32 (big-endian)'],
  [[0xff, 0xfe], 'UTF-16 (little-endian)'],
  [[0xfe, 0xff], 'UTF-16 (big-endian)'],
  [[0x2b, 0x2f, 0x76], 'UTF-7'],
  [[0x50, 0x4b, 0x03, 0x04], 'a ZIP archive (perhaps a spreadsheet workbook)'],
  [[0xd0, 0xcf, 0x11, 0xe0], 'an old office document (perhaps a spreadsheet workbook)'],
  [[0x1f, 0x8b], 'gzip-compressed data'],
  [[0x25, 0x50, 0x44, 0x46], 'a PDF document'],
];

function otherEncoding(bytes: Uint8Array): string | null {
  for (const [signature, name] of SIGNATURES)
    if (signature.every((byte, index) => bytes[index] === byte)) return name;
  const zero = bytes.indexOf(0);
  if (zero < 0) return null;
  const pairs = zerosByParity(bytes.subarray(0, 4096));
  if (pairs.odd > 0 && pairs.even === 0) return 'UTF-16 (little-endian, without byte-order mark)';
  if (pairs.even > 0 && pairs.odd === 0) return 'UTF-16 (big-endian, without byte-order mark)';
  return 'binary data (zero bytes)';
}

function zerosByParity(bytes: Uint8Array): { even: number; odd: number } {
  const count = { even: 0, odd: 0 };
  bytes.forEach((byte, index) => {
    if (byte === 0) count[index % 2 === 0 ? 'even' : 'odd'] += 1;
  });
  return count;
}

/** Finds the first byte that is no UTF-8; a replacement character that the author wrote is left alone. */
function refuseBrokenText(bytes: Uint8Array, text: string, file: string): void {
  const encoder = new TextEncoder();
  const mark = bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf ? 3 : 0;
  let from = 0;
  let at = mark;
  for (let index = text.indexOf('\ufffd'); index >= 0; index = text.indexOf('\ufffd', from)) {
    at += encoder.encode(text.slice(from, index)).length;
    if (!(bytes[at] === 0xef && bytes[at + 1] === 0xbf && bytes[at + 2] === 0xbd)) {
      const byte = bytes[at]!.toString(16).toUpperCase();
      const guess = bytes.some((b) => b >= 0x80 && b <= 0x9f) ? 'Windows-1252' : 'ISO 8859-1 or Windows-1252';
      refuse(
        `${file}, line ${lineAt(text, index)}`,
        `text that is not UTF-8 (byte ${byte}; perhaps ${guess})`,
        ALLOWED,
      );
    }
    at += 3;
    from = index + 1;
  }
}
