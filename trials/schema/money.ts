/** Said where neither brief nor formula names a currency. */
const UNNAMED = 'in the unit of the prices';

/** `12.30 EUR`; without a currency `12.30 in the unit of the prices`. */
export function money(value: number, currency: string | undefined): string {
  return inCurrency(value.toFixed(2), currency);
}

/** A figure that is written already, with its currency. */
export function inCurrency(figure: string, currency: string | undefined): string {
  return `${figure} ${currency ?? UNNAMED}`;
}

/** The head of a column of money: `money, EUR`. */
export function moneyHead(currency: string | undefined, word = 'money'): string {
  return `${word}, ${currency ?? 'as priced'}`;
}
