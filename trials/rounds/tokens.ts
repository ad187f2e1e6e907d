import { createHash, randomBytes, randomInt } from 'node:crypto';

/** An unguessable token: 32 random bytes as 43 signs that may stand in an address. */
export function drawToken(): string {
  return randomBytes(32).toString('base64url');
}

/** What is stored of a token. */
export function hashToken(token: string): string {
  return createHash('sha256').update(token).digest('hex');
}

/** A seed that nobody chose, from the operating system. */
export function drawSeed(): number {
  return randomInt(0, 2 ** 32);
}

/** A short id for a trial's address. */
export function drawTrialId(): string {
  return randomBytes(6).toString('hex');
}
