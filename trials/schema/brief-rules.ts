import { checkBalance, checkRepeatability } from './balance-rule.ts';
import type { Brief } from './brief.ts';
import { checkAsides, checkForm } from './form-rules.ts';
import type { Report } from './schema-faults.ts';

/** Column names of the files, which an id of the same table may not take. */
const MIX_COLUMNS = ['mix', 'round', 'blend', 'name', 'unit'];
const SCORE_COLUMNS = ['mix', 'assessor', 'session', 'replicate', 'position'];

/** What must hold between the fields of a brief. */
export function checkAcrossFields(brief: Brief, report: Report): void {
  checkIds(brief, report);
  checkLimits(brief, report);
  checkBounds(brief, report);
  checkSettings(brief, report);
  checkBalance(brief, report);
  checkRepeatability(brief, report);
  for (const index of brief.attributes.keys()) checkAttribute(brief, index, report);
  checkAsides(brief, report);
  checkDose(brief, report);
}

function checkIds(brief: Brief, report: Report): void {
  const seen = new Map<string, string>();
  for (const list of ['components', 'settings', 'attributes', 'asides'] as const) {
    const reserved = list === 'attributes' || list === 'asides' ? SCORE_COLUMNS : MIX_COLUMNS;
    brief[list].forEach(({ id }, index) => {
      const path = [list, index, 'id'];
      const taken = seen.get(id);
      if (taken !== undefined) report.fault(path, id, `an id of its own (${taken} has this one)`);
      else if (reserved.includes(id))
        report.fault(path, id, `any id but ${reserved.join(', ')} (columns of the files)`);
      seen.set(id, taken ?? `${list}[${index}]`);
    });
  }
}

function checkLimits(brief: Brief, report: Report): void {
  let least = 0;
  let most = 0;
  brief.components.forEach(({ id, low, high, stocks }, index) => {
    least += low;
    most += high;
    if (low > high) report.fault(['components', index, 'high'], high, `at least low (${low}) of ${id}`);
    if (new Set(stocks).size !== (stocks?.length ?? 0))
      report.warn(['components', index, 'stocks'], 'a strength is named twice');
  });
  if (least > 1 + 1e-9)
    report.fault(['components'], tidy(least), 'lows that sum to at most 1: no ratio meets all of them');
  if (most < 1 - 1e-9)
    report.fault(['components'], tidy(most), 'highs that sum to at least 1: no ratio meets all of them');
}

function checkBounds(brief: Brief, report: Report): void {
  const known = new Set(brief.components.map(({ id }) => id));
  brief.bounds.forEach(({ of, least, most }, index) => {
    const ids = Object.keys(of);
    for (const id of ids)
      if (!known.has(id))
        report.fault(['bounds', index, 'of', id], id, `the id of a component (${[...known].join(', ')})`);
    if (ids.length === 0) report.fault(['bounds', index, 'of'], of, 'at least one component');
    if (least === undefined && most === undefined)
      report.warn(['bounds', index], 'has neither least nor most, so it bounds nothing');
    if (least !== undefined && most !== undefined && least > most)
      report.fault(
        ['bounds', index, 'most'],
        most,
        `at least ${least}, the bound's own least: it crosses itself`,
      );
  });
}

function checkSettings(brief: Brief, report: Report): void {
  brief.settings.forEach(({ id, low, high }, index) => {
    if (low > high) report.fault(['settings', index, 'high'], high, `at least low (${low}) of ${id}`);
    if (low === high) report.warn(['settings', index], `${id} stays at ${low}, so nothing is learnt of it`);
  });
}

function checkAttribute(brief: Brief, index: number, report: Report): void {
  const { scale, target } = brief.attributes[index]!;
  const [low, high] = scale;
  const path = ['attributes', index];
  if (low >= high) {
    report.fault([...path, 'scale'], scale, 'two ends, the lower first');
    return;
  }
  checkForm(brief, index, report);
  const allowed = `on the scale, ${low} to ${high}`;
  const off = (value: number) => value < low || value > high;
  if (typeof target === 'number' && off(target)) report.fault([...path, 'target'], target, allowed);
  if (!Array.isArray(target)) return;
  target.forEach((end, side) => {
    if (off(end)) report.fault([...path, 'target', side], end, allowed);
  });
  if (target[0] > target[1])
    report.fault([...path, 'target'], target, 'a range [low, high], the lower first');
}

function checkDose(brief: Brief, report: Report): void {
  const dose = brief.drink?.dosePerLitre;
  if (typeof dose !== 'object') return;
  const setting = brief.settings.find(({ id }) => id === dose.setting);
  const path = ['drink', 'dosePerLitre', 'setting'];
  if (setting === undefined)
    report.fault(path, dose.setting, `the id of a setting${listed(brief.settings.map(({ id }) => id))}`);
  else if (setting.low < 0)
    report.fault(
      ['settings', brief.settings.indexOf(setting), 'low'],
      setting.low,
      'a dose of at least 0 mL per litre',
    );
}

function listed(ids: readonly string[]): string {
  return ids.length === 0 ? '; the brief has none' : ` (${ids.join(', ')})`;
}

function tidy(value: number): number {
  return Number(value.toPrecision(12));
}
