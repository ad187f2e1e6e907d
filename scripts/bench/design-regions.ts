import type { PlanInput } from '../../engine/design/plan-types.ts';
import type { SettingRange } from '../../engine/region/blend-space.ts';
import { simplex, spaceOf } from '../../tests/engine/region/spaces.ts';

/** A plan to be made, without its seed. */
export interface PlanCase {
  name: string;
  input: Omit<PlanInput, 'seed'>;
}

const dose: SettingRange = { id: 'dose', low: 0.17, high: 0.33, acts: 'each' };
const acid: SettingRange = { id: 'acid', low: 0, high: 2, acts: 'whole' };

/**
 * Twelve regions of many kinds: whole, cut, thin, flat, components a hundredfold apart, settings of both kinds,
 * balances from coarse to fine, more mixes than terms, as many, and fewer.
 */
export const REGIONS: readonly PlanCase[] = [
  {
    name: 'whole, 3, special cubic',
    input: {
      ...{ space: simplex(3), mixes: 10, model: 'special-cubic' },
      batch: { grams: 10, readability: 0.01 },
    },
  },
  {
    name: 'whole, 4, quadratic, as many mixes as terms',
    input: {
      ...{ space: simplex(4), mixes: 10, model: 'quadratic' },
      batch: { grams: 4, readability: 0.01 },
    },
  },
  {
    name: 'flare of McLean and Anderson, quadratic',
    input: {
      ...{ space: spaceOf([0.4, 0.1, 0.1, 0.03], [0.6, 0.5, 0.5, 0.08]), mixes: 15, model: 'quadratic' },
      batch: { grams: 10, readability: 0.01 },
    },
  },
  {
    name: 'a hundredfold apart, quadratic',
    input: {
      ...{ space: spaceOf([0.2, 0.002, 0.1, 0], [0.7, 0.01, 0.7, 0.3]), mixes: 13, model: 'quadratic' },
      ...{ batch: { grams: 4, readability: 0.01 }, stocks: { b: [5, 1] } },
    },
  },
  {
    name: 'two bounds across, quadratic',
    input: {
      space: spaceOf(
        [0.05, 0, 0.02, 0.1],
        [0.6, 0.3, 0.25, 0.6],
        [
          { of: { a: 1, b: 1 }, least: 0.2, most: 0.5 },
          { of: { c: 1, d: -0.5 }, most: 0 },
        ],
      ),
      ...{ mixes: 14, model: 'quadratic' },
      batch: { grams: 4, readability: 0.01 },
    },
  },
  {
    name: 'flat: one component twice another',
    input: {
      space: spaceOf([0, 0, 0.1, 0.1], [1, 1, 0.8, 0.8], [{ of: { a: 1, b: -2 }, least: 0, most: 0 }]),
      ...{ mixes: 9, model: 'quadratic' },
      batch: { grams: 9, readability: 0.01 },
    },
  },
  {
    name: 'a dose crossed with all, quadratic',
    input: {
      ...{ space: spaceOf([0.1, 0, 0], [0.8, 0.7, 0.6], [], [dose]), mixes: 14, model: 'quadratic' },
      batch: { grams: 5, readability: 0.01 },
    },
  },
  {
    name: 'two settings of both kinds, linear',
    input: {
      ...{ space: spaceOf([0.1, 0, 0.05], [0.8, 0.7, 0.6], [], [dose, acid]), mixes: 12, model: 'linear' },
      batch: { grams: 5, readability: 0.1 },
    },
  },
  {
    name: 'a coarse balance, special cubic',
    input: {
      ...{ space: spaceOf([0.1, 0, 0.1], [0.8, 0.6, 0.7]), mixes: 11, model: 'special-cubic' },
      batch: { grams: 5, readability: 0.1 },
    },
  },
  {
    name: 'thin: one component within two hundredths, quadratic',
    input: {
      space: spaceOf([0.3, 0.2, 0.1, 0.05], [0.32, 0.5, 0.4, 0.35]),
      ...{ mixes: 14, model: 'quadratic' },
      batch: { grams: 5, readability: 0.01 },
    },
  },
  {
    name: 'fewer mixes than terms, five components',
    input: {
      ...{ space: spaceOf([0, 0, 0.05, 0.1, 0], [0.4, 0.5, 0.4, 0.6, 0.2]), mixes: 9, model: 'quadratic' },
      batch: { grams: 5, readability: 0.01 },
    },
  },
  {
    name: 'six components, quadratic',
    input: {
      ...{ space: spaceOf([0.05, 0, 0, 0.1, 0, 0.02], [0.5, 0.3, 0.4, 0.6, 0.2, 0.3]), mixes: 26 },
      ...{ model: 'quadratic', batch: { grams: 5, readability: 0.01 } },
    },
  },
];
