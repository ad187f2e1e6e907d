/** `Pink pepper oil, CO2` → `pink-pepper-oil-co2`. */
export function shelfId(name: string): string {
  const plain = name.normalize('NFD').replace(/\p{M}/gu, '').toLowerCase();
  const words = plain.split(/[^a-z0-9]+/).filter(Boolean);
  return words.join('-').slice(0, 60).replace(/-$/, '') || 'own';
}
