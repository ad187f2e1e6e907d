/**
 * Whether a CAS registry number is well formed and its check digit right: the digits before the last, counted from
 * the right by 1, 2, 3 …, summed and divided by ten, leave the last (Chemical Abstracts Service, "Check Digit
 * Verification of CAS Registry Numbers").
 */
export function isCasNumber(text: string): boolean {
  if (!/^[1-9]\d{1,6}-\d{2}-\d$/.test(text)) return false;
  const digits = [...text.replaceAll('-', '')].map(Number).reverse();
  const sum = digits.slice(1).reduce((total, digit, index) => total + digit * (index + 1), 0);
  return sum % 10 === digits[0];
}
