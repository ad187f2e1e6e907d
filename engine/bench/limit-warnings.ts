import type { JudgedLimit } from './limits.ts';

interface Judged {
  substance: string;
  mgPerKg: number | null;
  limits: readonly JudgedLimit[];
}

/** One sentence for each limit that the figures go past; a row that nobody verified says so. */
export function limitWarnings(substances: readonly Judged[], percentVol: number | null): string[] {
  return substances.flatMap((one) =>
    one.limits.filter(({ exceeded }) => exceeded === true).map((limit) => warningOf(one, limit, percentVol)),
  );
}

function warningOf({ substance, mgPerKg }: Judged, limit: JudgedLimit, percentVol: number | null): string {
  const only = limit.only === null ? '' : `, ${limit.only}`;
  const doubt = limit.own
    ? '; your own figure: check the law where you sell'
    : limit.verified
      ? ''
      : '; this row has not been verified against the law';
  const figure = limit.limit === null ? '' : ` against ${limit.limit} ${limit.unit}`;
  const found = limit.unit === '% vol' ? `${round(percentVol)} % vol` : `${round(mgPerKg)} mg/kg`;
  return `${substance}: ${found} in the drink${figure} (${limit.kind}, ${limit.jurisdiction}${only}; ${limit.source}${doubt})`;
}

function round(value: number | null): string {
  return value === null ? 'an amount that cannot be told' : String(Number(value.toPrecision(3)));
}
