/**
 * Orders names as people do: m2 before m10, letters by code point, so that the same names come out in the same
 * order on every machine. Returns a negative number, zero or a positive one.
 */
export function naturalOrder(a: string, b: string): number {
  const left = chunks(a);
  const right = chunks(b);
  for (let i = 0; i < Math.min(left.length, right.length); i++) {
    const order = compareChunks(left[i]!, right[i]!);
    if (order !== 0) return order;
  }
  return left.length - right.length || compareText(a, b);
}

function chunks(name: string): string[] {
  return name.match(/[0-9]+|[^0-9]+/g) ?? [];
}

function compareChunks(a: string, b: string): number {
  if (isDigits(a) && isDigits(b)) {
    const [x, y] = [withoutZeros(a), withoutZeros(b)];
    return x.length - y.length || compareText(x, y);
  }
  return compareText(a, b);
}

function isDigits(chunk: string): boolean {
  return chunk.charCodeAt(0) >= 48 && chunk.charCodeAt(0) <= 57;
}

function withoutZeros(digits: string): string {
  return digits.replace(/^0+(?=.)/, '');
}

function compareText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
