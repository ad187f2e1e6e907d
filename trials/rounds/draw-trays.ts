import { randomInt } from 'node:crypto';
import { REFERENCE, WARMUP } from '../../engine/panel/observations.ts';
import type { SittingRequest } from '../schema/api.ts';

interface Tray {
  assessor: string;
  cups: { position: number; code: string; mix: string; replicate: string }[];
}

/** INTERIM: chance orders until the engine's balanced ones stand. */
export function drawTrays(
  request: SittingRequest,
  _seed: number,
  met: readonly { assessor: string; code: string }[],
): Tray[] {
  const mixes = request.reference ? [...request.mixes, REFERENCE] : request.mixes;
  const inSitting = new Set<string>();
  return request.assessors.map((assessor) => {
    const taken = new Set(met.filter((m) => m.assessor === assessor).map((m) => m.code));
    const code = (): string => {
      for (let tries = 0; ; tries++) {
        const drawn = String(randomInt(100, 1000));
        if (taken.has(drawn) || (tries < 5000 && inSitting.has(drawn))) continue;
        taken.add(drawn);
        inSitting.add(drawn);
        return drawn;
      }
    };
    const cups = request.warmup ? [{ mix: WARMUP, replicate: '1' }] : [];
    for (let r = 1; r <= request.replicates; r++) {
      const block = mixes.map((mix) => ({ mix, replicate: String(r), at: randomInt(2 ** 32) }));
      cups.push(...block.sort((a, b) => a.at - b.at).map(({ mix, replicate }) => ({ mix, replicate })));
    }
    return { assessor, cups: cups.map((cup, i) => ({ position: i + 1, code: code(), ...cup })) };
  });
}
