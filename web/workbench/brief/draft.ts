import type { Brief } from '../../../trials/schema/brief.ts';
import { readNumber } from '../numbers.ts';
import { hundredsOf, shareOf } from './hundreds.ts';
import { idsOf } from './ids.ts';

/**
 * A brief as it is being typed: text in every field, so that half a number is kept as it stands. Shares, limits and
 * how well a mass is known are parts of a hundred here and fractions in the brief.
 */
export interface BriefDraft {
  name: string;
  /** Words with commas between; drafts that were kept before there were any have none. */
  tags?: string;
  /** What prices are in. */
  currency?: string;
  components: ComponentDraft[];
  bounds: BoundDraft[];
  settings: SettingDraft[];
  batch: {
    grams: string;
    readability: string;
    tolerance: string;
    /** How well the scale repeats, where it is known without weighing; drafts from before have neither. */
    repeatability?: string;
    /** One load weighed again and again. */
    weighings?: string[];
  };
  attributes: AttributeDraft[];
  panel: { assessors: string; cupsPerSitting: string; replicates: string; lingers?: boolean };
  /** Rankings and descriptions asked beside the scales: carried along, no field changes them. */
  asides?: Brief['asides'];
  concentrate: { carrier: string; percentVol: string; fillMillilitres: string };
  drink: {
    name: string;
    cupMillilitres: string;
    percentVol: string;
    density: string;
    dose: string;
    doseSetting: string;
  };
  caps: { ethanol: string; cost: string; jurisdictions: string };
  cautions: CautionDraft[];
  /** Own wordings of what the workbench tells by itself; drafts from before have none. */
  cautionWords?: Brief['cautionWords'];
}

export interface ComponentDraft {
  id: string;
  name: string;
  low: string;
  high: string;
  price: string;
  strength: string;
  solvent: string;
  material: string;
  stocks: string;
}
export interface BoundDraft {
  terms: { coefficient: string; component: string }[];
  least: string;
  most: string;
}
export interface SettingDraft {
  id: string;
  name: string;
  unit: string;
  low: string;
  high: string;
  acts: string;
}
export interface AttributeDraft {
  id: string;
  name: string;
  scaleLow: string;
  scaleHigh: string;
  aim: 'value' | 'range' | 'most' | 'least' | 'reference' | 'none';
  target: string;
  targetHigh: string;
  tolerance: string;
  weight: string;
  /** How it is answered; empty: as the scale suggests. */
  form?: string;
  /** Words on the scale with semicolons between. */
  words?: string;
}
export interface CautionDraft {
  to: string;
  text: string;
}

export const BLANK = {
  component: (): ComponentDraft => ({
    id: '',
    name: '',
    low: '0',
    high: '100',
    price: '',
    strength: '',
    solvent: '',
    material: '',
    stocks: '',
  }),
  bound: (): BoundDraft => ({ terms: [{ coefficient: '1', component: '' }], least: '', most: '' }),
  setting: (): SettingDraft => ({ id: '', name: '', unit: '', low: '', high: '', acts: 'each' }),
  attribute: (): AttributeDraft => ({
    id: '',
    name: '',
    scaleLow: '0',
    scaleHigh: '100',
    aim: 'value',
    target: '',
    targetHigh: '',
    tolerance: '',
    weight: '1',
  }),
  caution: (): CautionDraft => ({ to: 'taster', text: '' }),
};

/** Where a new trial begins: two components, one attribute, a small balance, four tasters. */
export function emptyDraft(): BriefDraft {
  return {
    name: '',
    components: [BLANK.component(), BLANK.component()],
    bounds: [],
    settings: [],
    batch: { grams: '4', readability: '0.01', tolerance: '' },
    attributes: [BLANK.attribute()],
    panel: { assessors: '4', cupsPerSitting: '4', replicates: '1' },
    concentrate: { carrier: '', percentVol: '', fillMillilitres: '' },
    drink: { name: '', cupMillilitres: '', percentVol: '0', density: '1', dose: '', doseSetting: '' },
    caps: { ethanol: '', cost: '', jurisdictions: '' },
    cautions: [],
  };
}

/** A brief as text to be edited. */
export function draftOf(brief: Brief): BriefDraft {
  const { concentrate, drink, caps } = brief;
  const dose = drink?.dosePerLitre;
  return {
    name: brief.name,
    tags: brief.tags?.join(', ') ?? '',
    currency: brief.currency ?? '',
    components: brief.components.map(componentDraft),
    bounds: brief.bounds.map(({ of, least, most }) => ({
      terms: Object.entries(of).map(([component, coefficient]) => ({
        coefficient: String(coefficient),
        component,
      })),
      least: hundredsOf(least),
      most: hundredsOf(most),
    })),
    settings: brief.settings.map((setting) => ({
      ...setting,
      unit: setting.unit ?? '',
      low: text(setting.low),
      high: text(setting.high),
    })),
    batch: {
      grams: text(brief.batch.grams),
      readability: text(brief.batch.readability),
      tolerance: hundredsOf(brief.batch.tolerance),
      repeatability: brief.batch.weighings === undefined ? text(brief.batch.repeatability) : '',
      weighings: (brief.batch.weighings ?? []).map(String),
    },
    attributes: brief.attributes.map(attributeDraft),
    panel: {
      assessors: text(brief.panel.assessors),
      cupsPerSitting: text(brief.panel.cupsPerSitting),
      replicates: text(brief.panel.replicates),
      lingers: brief.panel.lingers ?? false,
    },
    asides: brief.asides,
    concentrate: {
      carrier: concentrate?.carrier ?? '',
      percentVol: text(concentrate?.percentVol),
      fillMillilitres: text(concentrate?.fillMillilitres),
    },
    drink: {
      name: drink?.name ?? '',
      cupMillilitres: text(drink?.cupMillilitres),
      percentVol: text(drink?.percentVol ?? 0),
      density: text(drink?.density ?? 1),
      dose: typeof dose === 'number' ? text(dose) : '',
      doseSetting: typeof dose === 'object' ? dose.setting : '',
    },
    caps: {
      ethanol: text(caps?.ethanolGramsPerSitting),
      cost: text(caps?.costPerLitre),
      jurisdictions: (caps?.jurisdictions ?? []).join(', '),
    },
    cautions: brief.cautions.map((caution) => ({ ...caution })),
    cautionWords: { ...brief.cautionWords },
  };
}

function componentDraft(component: Brief['components'][number]): ComponentDraft {
  return {
    id: component.id,
    name: component.name,
    low: hundredsOf(component.low),
    high: hundredsOf(component.high),
    price: text(component.pricePerGram),
    strength: component.strength === 100 ? '' : text(component.strength),
    solvent: component.solvent ?? '',
    material: component.material ?? '',
    stocks: (component.stocks ?? []).join('; '),
  };
}

function attributeDraft(attribute: Brief['attributes'][number]): AttributeDraft {
  const { target, scale } = attribute;
  return {
    id: attribute.id,
    name: attribute.name,
    scaleLow: text(scale[0]),
    scaleHigh: text(scale[1]),
    aim: aimOf(target),
    target: Array.isArray(target) ? text(target[0]) : typeof target === 'number' ? text(target) : '',
    targetHigh: Array.isArray(target) ? text(target[1]) : '',
    tolerance: text(attribute.tolerance),
    weight: text(attribute.weight),
    form: attribute.form ?? '',
    words: (attribute.words ?? []).join('; '),
  };
}

function aimOf(target: Brief['attributes'][number]['target']): AttributeDraft['aim'] {
  if (target === undefined) return 'none';
  if (Array.isArray(target)) return 'range';
  return typeof target === 'number' ? 'value' : target;
}

function text(value: number | undefined): string {
  return value === undefined ? '' : String(value);
}

/**
 * The JSON of a brief out of what was typed. What is no number stays as it was typed, so that the check of the brief
 * names the field; what is empty and may be absent is left out.
 */
export function jsonOf(draft: BriefDraft): unknown {
  const ids = idsOf(draft);
  return {
    format: 'brief/1',
    ...given('name', draft.name.trim()),
    ...tagsOf(draft),
    ...given('currency', (draft.currency ?? '').trim()),
    components: draft.components.map((component, k) => componentJson(component, ids.components[k]!)),
    bounds: draft.bounds.map(({ terms, least, most }) => ({
      of: Object.fromEntries(
        terms
          .filter(({ component }) => component !== '')
          .map((term) => [term.component, must(term.coefficient)]),
      ),
      ...share('least', least),
      ...share('most', most),
    })),
    settings: draft.settings.map((setting, k) => ({
      id: ids.settings[k]!,
      name: setting.name.trim(),
      ...given('unit', setting.unit.trim()),
      low: must(setting.low),
      high: must(setting.high),
      acts: setting.acts,
    })),
    batch: {
      grams: must(draft.batch.grams),
      readability: must(draft.batch.readability),
      ...share('tolerance', draft.batch.tolerance),
      ...repeatsJson(draft.batch),
    },
    attributes: draft.attributes.map((attribute, k) => attributeJson(attribute, ids.attributes[k]!)),
    panel: {
      assessors: must(draft.panel.assessors),
      cupsPerSitting: must(draft.panel.cupsPerSitting),
      replicates: must(draft.panel.replicates),
      ...(draft.panel.lingers ? { lingers: true } : {}),
    },
    ...(draft.asides && draft.asides.length > 0 ? { asides: draft.asides } : {}),
    ...afterPanel(draft),
    cautions: draft.cautions.filter((caution) => caution.text.trim() !== ''),
    ...wordingsOf(draft),
  };
}

function wordingsOf({ cautionWords = {} }: BriefDraft): object {
  const said = Object.entries(cautionWords).filter(([, text]) => (text ?? '').trim() !== '');
  return said.length === 0 ? {} : { cautionWords: Object.fromEntries(said) };
}

function tagsOf({ tags = '' }: BriefDraft): { tags?: string[] } {
  const words = tags.split(',').map((word) => word.trim());
  const given = [...new Set(words.filter((word) => word !== ''))];
  return given.length === 0 ? {} : { tags: given };
}

/** Weighings go before a figure that was typed: it is worked out from them. */
function repeatsJson({ weighings = [], repeatability = '' }: BriefDraft['batch']): object {
  const typed = weighings.filter((one) => one.trim() !== '');
  return typed.length > 0 ? { weighings: typed.map(must) } : number('repeatability', repeatability);
}

function componentJson(component: ComponentDraft, id: string): object {
  const stocks = component.stocks.split(/[;\s]+/).filter((one) => one !== '');
  return {
    id,
    name: component.name.trim(),
    low: shareOf(component.low),
    high: shareOf(component.high),
    ...given('material', component.material.trim()),
    ...number('pricePerGram', component.price),
    ...number('strength', component.strength),
    ...given('solvent', component.solvent.trim()),
    ...(stocks.length > 0 ? { stocks: stocks.map(must) } : {}),
  };
}

function attributeJson(attribute: AttributeDraft, id: string): object {
  const words = (attribute.words ?? '').split(';').map((word) => word.trim());
  return {
    id,
    name: attribute.name.trim(),
    scale: [must(attribute.scaleLow), must(attribute.scaleHigh)],
    ...targetJson(attribute),
    ...number('tolerance', attribute.tolerance),
    ...number('weight', attribute.weight),
    ...given('form', attribute.form ?? ''),
    ...(words.some((word) => word !== '') ? { words } : {}),
  };
}

function targetJson({ aim, target, targetHigh }: AttributeDraft): object {
  // An empty score is a fault of its own: left out it would say that nothing is aimed at.
  const score = (typed: string) => must(typed) ?? '';
  if (aim === 'none') return {};
  if (aim === 'value') return { target: score(target) };
  if (aim === 'range') return { target: [score(target), score(targetHigh)] };
  return { target: aim };
}

function afterPanel({ concentrate, drink, caps }: BriefDraft): object {
  const { doseSetting, dose } = drink;
  const jurisdictions = caps.jurisdictions.split(/[,;\s]+/).filter((one) => one !== '');
  const limits = {
    ...number('ethanolGramsPerSitting', caps.ethanol),
    ...number('costPerLitre', caps.cost),
    ...(jurisdictions.length > 0 ? { jurisdictions } : {}),
  };
  return {
    ...(Object.values(concentrate).some((one) => one.trim() !== '')
      ? {
          concentrate: {
            carrier: concentrate.carrier.trim(),
            percentVol: must(concentrate.percentVol),
            fillMillilitres: must(concentrate.fillMillilitres),
          },
        }
      : {}),
    ...(drink.name.trim() !== '' || drink.cupMillilitres.trim() !== ''
      ? {
          drink: {
            name: drink.name.trim(),
            cupMillilitres: must(drink.cupMillilitres),
            ...number('percentVol', drink.percentVol),
            ...number('density', drink.density),
            ...(doseSetting === ''
              ? number('dosePerLitre', dose)
              : { dosePerLitre: { setting: doseSetting } }),
          },
        }
      : {}),
    ...(Object.keys(limits).length > 0 ? { caps: limits } : {}),
  };
}

/** A number that must be there; what is none stays text, and nothing at all stays nothing. */
function must(typed: string): number | string | undefined {
  return typed.trim() === '' ? undefined : (readNumber(typed) ?? typed);
}

function number(key: string, typed: string): object {
  return typed.trim() === '' ? {} : { [key]: must(typed) };
}

function share(key: string, typed: string): object {
  return typed.trim() === '' ? {} : { [key]: shareOf(typed) };
}

function given(key: string, value: string): object {
  return value === '' ? {} : { [key]: value };
}
