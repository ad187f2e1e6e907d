import { EngineError } from '../errors.ts';
import type { Random } from '../numeric/random.ts';

/** A sitting that needs codes. */
export interface SittingToCode {
  assessor: string;
  session: string;
  cups: number;
}

const FIRST_CODE = 100;
const LAST_CODE = 999;

/**
 * Whether people are likely to read something into a three-digit code. The rule: a digit that occurs twice (777,
 * 100, 911), three digits in a run (123, 765), a round number (ends in 0), a one in front ('the first'), and 247
 * and 365 (round the clock, all year). Common practice, no published source.
 */
export function suggestive(code: number): boolean {
  const [a, b, c] = [Math.floor(code / 100), Math.floor(code / 10) % 10, code % 10] as const;
  const twice = a === b || b === c || a === c;
  const run = Math.abs(b - a) === 1 && c - b === b - a;
  return twice || run || c === 0 || a === 1 || code === 247 || code === 365;
}

/**
 * Random three-digit codes for every cup: none twice for an assessor, over these sittings and `used`; none twice in
 * a session while the 900 codes suffice; none that is `suggestive` while the others suffice; none twice in all
 * sittings, nor one that anybody in `used` met, while that suffices too: an old label left on the table then names
 * no new cup.
 *
 * @param used codes each assessor met before, absent assessors included @returns for each sitting its codes in pouring order
 * @throws EngineError `bad-argument` where an assessor would need more than the 900 codes
 */
export function drawCodes(
  sittings: readonly SittingToCode[],
  used: Readonly<Record<string, readonly string[]>>,
  random: Random,
): string[][] {
  const ledger = new CodeLedger(used);
  const out: string[][] = sittings.map(() => []);
  for (const session of new Set(sittings.map((s) => s.session))) {
    const cups = sittings.flatMap((s, i) =>
      s.session === session
        ? Array.from({ length: s.cups }, () => ({ assessor: s.assessor, sitting: i }))
        : [],
    );
    const owners = cups.map((cup) => cup.assessor);
    const codes = matchCodes(owners, ledger, random) ?? repeatCodes(owners, ledger, random);
    codes.forEach((code, k) => {
      ledger.enter(owners[k]!, code);
      out[cups[k]!.sitting]!.push(String(code));
    });
  }
  return out;
}

/** What each assessor has met, and what has been used at all. */
class CodeLedger {
  readonly #met = new Map<string, Set<number>>();
  readonly #drawn = new Set<number>();

  constructor(used: Readonly<Record<string, readonly string[]>>) {
    for (const [assessor, codes] of Object.entries(used))
      for (const code of codes) this.enter(assessor, Number(code));
  }

  met(assessor: string, code: number): boolean {
    return this.#met.get(assessor)?.has(code) ?? false;
  }

  enter(assessor: string, code: number): void {
    const met = this.#met.get(assessor) ?? new Set();
    this.#met.set(assessor, met.add(code));
    this.#drawn.add(code);
  }

  /** All codes at random: plain new ones first, then plain ones drawn before, then those that mean something. */
  preference(random: Random): number[] {
    const all = Array.from({ length: LAST_CODE - FIRST_CODE + 1 }, (_, i) => FIRST_CODE + i);
    const rank = (code: number) => (suggestive(code) ? 2 : 0) + (this.#drawn.has(code) ? 1 : 0);
    return random.shuffle(all).sort((a, b) => rank(a) - rank(b));
  }
}

/**
 * A code of its own for each cup of a session, or null where there is none. Cups take turns at the codes in order
 * of preference; a cup that finds none free asks others to move (augmenting paths, Kuhn 1955).
 */
function matchCodes(owners: readonly string[], ledger: CodeLedger, random: Random): number[] | null {
  if (owners.length > LAST_CODE - FIRST_CODE + 1) return null;
  const codes = ledger.preference(random);
  const holder = new Map<number, number>();
  const hold = (code: number, cup: number) => {
    holder.set(code, cup);
    return true;
  };
  const place = (cup: number, tried: Set<number>): boolean => {
    const open = codes.filter((code) => !tried.has(code) && !ledger.met(owners[cup]!, code));
    const free = open.find((code) => !holder.has(code));
    if (free !== undefined) return hold(free, cup);
    for (const code of open) {
      if (tried.has(code)) continue;
      tried.add(code);
      if (place(holder.get(code)!, tried)) return hold(code, cup);
    }
    return false;
  };
  for (let cup = 0; cup < owners.length; cup++) if (!place(cup, new Set())) return null;
  const out = new Array<number>(owners.length);
  for (const [code, cup] of holder) out[cup] = code;
  return out;
}

/** Codes for a session with more cups than codes: none twice for an assessor, each used as rarely as can be. */
function repeatCodes(owners: readonly string[], ledger: CodeLedger, random: Random): number[] {
  const uses = new Map<number, number>();
  const mine = new Map<string, Set<number>>();
  const codes = ledger.preference(random);
  return owners.map((owner) => {
    const taken = mine.get(owner) ?? new Set<number>();
    mine.set(owner, taken);
    const open = codes.filter((code) => !taken.has(code) && !ledger.met(owner, code));
    if (open.length === 0)
      throw new EngineError('bad-argument', 'usedCodes', owner, 'an assessor with codes left of the 900');
    const code = open.reduce((best, c) => ((uses.get(c) ?? 0) < (uses.get(best) ?? 0) ? c : best));
    uses.set(code, (uses.get(code) ?? 0) + 1);
    taken.add(code);
    return code;
  });
}
