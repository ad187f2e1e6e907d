import { describe, expect, test } from 'vitest';
import { decodeText } from '../../../trials/files/text.ts';

const utf8 = (text: string) => new TextEncoder().encode(text);
const refusal = (bytes: Uint8Array) => {
  try {
    decodeText(bytes, 'f.csv');
  } catch (error) {
    return (error as Error).message;
  }
  return 'accepted';
};

describe('decodeText', () => {
  test('takes UTF-8 with and without byte-order mark, LF and CRLF', () => {
    expect(decodeText(utf8('\ufeffmix,é\r\n1,2\n'), 'f')).toBe('mix,é\n1,2\n');
    expect(decodeText(utf8('mix\r\n'), 'f')).toBe('mix\n');
    expect(decodeText(new Uint8Array(), 'f')).toBe('');
  });

  test('leaves a replacement character that the author wrote', () => {
    expect(decodeText(utf8('a\ufffdb'), 'f')).toBe('a\ufffdb');
  });

  test.each<[string, Uint8Array, string]>([
    [
      'UTF-16 LE with mark',
      new Uint8Array(Buffer.from('\ufeffmix', 'utf16le')),
      'found UTF-16 (little-endian), allowed UTF-8 text',
    ],
    [
      'UTF-16 BE with mark',
      new Uint8Array(Buffer.from('\ufeffmix', 'utf16le').swap16()),
      'found UTF-16 (big-endian)',
    ],
    [
      'UTF-16 LE without mark',
      new Uint8Array(Buffer.from('mix,a', 'utf16le')),
      'UTF-16 (little-endian, without byte-order mark)',
    ],
    [
      'UTF-16 BE without mark',
      new Uint8Array(Buffer.from('mix,a', 'utf16le').swap16()),
      'UTF-16 (big-endian, without',
    ],
    ['UTF-32', new Uint8Array([0xff, 0xfe, 0, 0, 0x6d, 0, 0, 0]), 'found UTF-32 (little-endian)'],
    [
      'Latin 1',
      new Uint8Array(Buffer.from('mix\nÉtoile\nx\ufffd', 'latin1')),
      'f.csv, line 2: found text that is not UTF-8 (byte C9; perhaps ISO 8859-1 or Windows-1252)',
    ],
    [
      'Windows-1252',
      new Uint8Array([0x61, 0x0a, 0x62, 0x0a, 0x93]),
      'f.csv, line 3: found text that is not UTF-8 (byte 93; perhaps Windows-1252)',
    ],
    [
      'a workbook',
      new Uint8Array([0x50, 0x4b, 3, 4, 0, 0]),
      'found a ZIP archive (perhaps a spreadsheet workbook)',
    ],
    ['zeros', new Uint8Array([0x61, 0, 0, 0x61, 0, 0]), 'found binary data (zero bytes)'],
    [
      'carriage returns alone',
      utf8('mix,a\rm1,2\r'),
      'f.csv, line 1: found a carriage return alone, allowed lines ended by LF or CRLF',
    ],
  ])('refuses %s by name', (_, bytes, message) => {
    expect(refusal(bytes)).toContain(message);
  });

  test('finds the broken byte after replacement characters that were meant', () => {
    const bytes = new Uint8Array([...utf8('\ufeffa\ufffd\nb\n'), 0xe9]);
    expect(refusal(bytes)).toContain('f.csv, line 3: found text that is not UTF-8 (byte E9');
  });
});
