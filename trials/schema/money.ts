/** Said where neither brief nor formula names a currency. */
const UNNAMED = 'in the unit of the prices';

/** Between the thousands of a long figure: narrow, and no place to break a line. */
const THIN = '\u202f';

/** An amount with two decimals, thousands apart (`1 250 000.50`); one that would read as nothing has two figures. */
export function amount(value: number): string {
  const text = value.toFixed(2);
  if (value > 0 && Number(text) === 0) return String(Number(value.toPrecision(2)));
  return apart(text);
}

/** A figure that is written already, its thousands apart from five figures on. */
export function apart(figure: string): string {
  return figure.replace(/^-?\d{5,}/, (whole) => whole.replace(/\B(?=(\d{3})+$)/g, THIN));
}

/** `12.30 EUR`; without a currency `12.30 in the unit of the prices`. */
export function money(value: number, currency: string | undefined): string {
  return inCurrency(amount(value), currency);
}

/** A figure that is written already, with its currency. */
export function inCurrency(figure: string, currency: string | undefined): string {
  return `${apart(figure)} ${currency ?? UNNAMED}`;
}

/** The head of a column of money: `money, EUR`. */
export function moneyHead(currency: string | undefined, word = 'money'): string {
  return `${word}, ${currency ?? 'as priced'}`;
}
