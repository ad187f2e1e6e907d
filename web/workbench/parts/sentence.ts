/**
 * A message as a sentence: a large letter at the beginning and a stop at the end. Messages that begin with a name or a
 * place (`m2: …`, `components[0].low: …`) keep it as it is spelt.
 */
export function sentence(message: string): string {
  const text = message.trim();
  const begun = /^[a-z]+['’]?[a-z]*[ ,]/.test(text) ? text[0]!.toUpperCase() + text.slice(1) : text;
  return /[.!?…:]$/.test(begun) || begun === '' ? begun : `${begun}.`;
}
