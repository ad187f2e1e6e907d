import type { LadderKept, LadderView } from '../../../trials/schema/api.ts';
import { keep, kept } from '../kept.ts';
import { listed } from '../numbers.ts';
import { ask, Failure, Refusal } from '../server.ts';

/** A ladder as a browser kept it before ladders were part of the data. */
interface OldLadder {
  component: string;
  concentrations: number[];
  trays: { taster: string; threes: { codes: string[]; odd: string }[] }[];
  /** By taster, rung by rung, as typed. */
  named: Record<string, string[]>;
}

/** The ladders of a trial, and what there is to say of one that this browser kept from before. */
export interface Arrived {
  ladders: LadderView[];
  says: string | null;
}

/** Fetches the ladders of a trial; one that this browser still keeps is taken into the data first, then forgotten here. */
export async function arrive(trial: string): Promise<Arrived> {
  const says = await takeOver(trial);
  return { ladders: await ask('listLadders', { trial }), says };
}

async function takeOver(trial: string): Promise<string | null> {
  const key = `ladder:${trial}`;
  const old = kept<OldLadder>(key);
  if (old === null) return null;
  try {
    const { body, left } = asKept(old);
    const { ladder } = await ask('takeOverLadder', { trial }, body);
    keep(key, null);
    const odd = left.length === 0 ? '' : ` Left out, as none of the three cups: ${listed(left)}.`;
    return `Ladder ${ladder} was kept by this browser alone; it is part of the trial’s data now.${odd}`;
  } catch (thrown) {
    if (thrown instanceof Failure) throw thrown;
    const why = thrown instanceof Refusal ? thrown.message : 'it cannot be read';
    return `A ladder that this browser keeps could not be taken into the data (${why}). It stays in this browser.`;
  }
}

/** The old shape as the workbench takes it, and typed codes that fit no cup of their rung. */
export function asKept({ component, concentrations, trays, named }: OldLadder): {
  body: LadderKept;
  left: string[];
} {
  const left: string[] = [];
  const whole = trays.map(({ taster, threes }) => ({
    taster,
    threes,
    named: threes.map(({ codes }, k) => {
      const typed = Object.hasOwn(named, taster) ? (named[taster]?.[k] ?? '') : '';
      if (typed !== '' && !codes.includes(typed)) left.push(`${taster}, rung ${k + 1}: ${typed}`);
      return codes.includes(typed) ? typed : null;
    }),
  }));
  return { body: { component, concentrations, trays: whole }, left };
}
