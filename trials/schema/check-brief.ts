import { withRepeatability } from './balance-rule.ts';
import { Brief } from './brief.ts';
import { checkAcrossFields } from './brief-rules.ts';
import { FaultList, type Refused } from './faults.ts';
import { addIssues, type JsonPath, type Locate, pathText, type Report, valueAt } from './schema-faults.ts';
import { unknownFields } from './unknown-fields.ts';

/** A brief that holds together, with what its author should know. */
export interface CheckedBrief {
  brief: Brief;
  warnings: string[];
}

/**
 * Judges a whole brief: the shape of each field, then what holds between fields (ids, bounds, targets, scales,
 * balance, dose). Defaults are filled in; names left out become ids; ten weighings
 * become the balance's repeatability. Whether the allowed region holds a point is
 * settled by the engine, beyond the sums of the limits.
 *
 * @param value anything that came from JSON
 * @param locate says where a path is; by default the path itself (`components[2].high`)
 * @returns the brief with warnings, or the faults (at most twenty and a count)
 */
export function checkBrief(value: unknown, locate: Locate = pathText): CheckedBrief | Refused {
  const faults = new FaultList();
  const parsed = Brief.safeParse(value);
  if (!parsed.success) {
    addIssues(parsed.error.issues, value, locate, faults);
    return { faults: faults.list() };
  }
  const warnings = unknownFields(Brief, value).map((path) => `${locate(path)}: unknown field, passed over`);
  const report: Report = {
    fault: (path, found, allowed) => faults.add(locate(path), found, allowed),
    warn: (path, text) => warnings.push(`${locate(path)}: ${text}`),
  };
  const brief = withNames(parsed.data);
  refuseHiddenKeys(value, brief, report);
  checkAcrossFields(brief, report);
  if (faults.count > 0) return { faults: faults.list() };
  return { brief: { ...brief, batch: withRepeatability(brief.batch) }, warnings };
}

/** `__proto__` in a bound is dropped by record schemas, so it is looked for in what was given. */
function refuseHiddenKeys(value: unknown, brief: Brief, report: Report): void {
  brief.bounds.forEach((_, index) => {
    const path: JsonPath = ['bounds', index, 'of'];
    const of = valueAt(value, path);
    if (typeof of === 'object' && of !== null && Object.hasOwn(of, '__proto__'))
      report.fault([...path, '__proto__'], '__proto__', 'the id of a component');
  });
}

function withNames(brief: Brief): Brief {
  const named = <T extends { id: string; name: string }>(list: readonly T[]): T[] =>
    list.map((entry) => ({ ...entry, name: entry.name === '' ? entry.id : entry.name }));
  return {
    ...brief,
    name: brief.name === '' ? 'Untitled' : brief.name,
    components: named(brief.components),
    settings: named(brief.settings),
    attributes: named(brief.attributes),
    asides: named(brief.asides),
  };
}
