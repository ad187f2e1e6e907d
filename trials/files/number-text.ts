const POINT = /^[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?$/;
const POINT_OR_COMMA = /^[+-]?(?:\d+(?:[.,]\d*)?|[.,]\d+)(?:[eE][+-]?\d+)?$/;

/**
 * A finite decimal number with optional exponent, spaces around it allowed; null for anything else (units, hex,
 * `NaN`, thousands separators). A decimal comma counts only where `comma` says so.
 */
export function parseNumber(text: string, comma: boolean): number | null {
  const plain = text.trim();
  if (!(comma ? POINT_OR_COMMA : POINT).test(plain)) return null;
  const value = Number(plain.replace(',', '.'));
  return Number.isFinite(value) ? value : null;
}
