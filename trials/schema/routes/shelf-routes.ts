import { z } from 'zod';
import {
  Ledger,
  LimitView,
  LotAccount,
  LotChange,
  LotCount,
  NewLot,
  NewStock,
  OwnLimit,
  OwnMaterial,
  ShelfView,
} from '../shelf-shapes.ts';
import { maker, type Route, trialPath } from './route.ts';

const limitPath = z.object({ limit: z.coerce.number().int().min(1) });
const lotPath = z.object({ lot: z.string().max(40) });

/** Materials, bottles, stocks, and what every gram went into. */
export const SHELF_ROUTES = {
  readShelf: {
    method: 'GET',
    path: '/api/shelf',
    roles: maker,
    answer: ShelfView,
    says: 'materials and bottles on hand',
  },
  listLimits: {
    method: 'GET',
    path: '/api/shelf/limits',
    roles: maker,
    answer: z.array(LimitView),
    says: "the maker's own limits, then legal ones, with source and whether they were verified",
  },
  addLimit: {
    method: 'POST',
    path: '/api/shelf/limits',
    roles: maker,
    body: OwnLimit,
    answer: z.array(LimitView),
    says: "a limit of the maker's own, which every drink is held against beside the legal ones",
  },
  changeLimit: {
    method: 'PUT',
    path: '/api/shelf/limits/:limit',
    roles: maker,
    params: limitPath,
    body: OwnLimit,
    answer: z.array(LimitView),
    says: 'change an own limit, or bring back one that was taken away',
  },
  takeLimitAway: {
    method: 'DELETE',
    path: '/api/shelf/limits/:limit',
    roles: maker,
    params: limitPath,
    answer: z.array(LimitView),
    says: 'take an own limit away: nothing is held against it any more',
  },
  keepMaterial: {
    method: 'PUT',
    path: '/api/shelf/materials/:material',
    roles: maker,
    params: z.object({ material: z.string().max(60) }),
    body: OwnMaterial,
    answer: ShelfView,
    says: "the maker's own entry for a material, before the starter shelf's",
  },
  addLot: {
    method: 'POST',
    path: '/api/shelf/lots',
    roles: maker,
    body: NewLot,
    answer: LotAccount,
    says: 'a bottle that came to the shelf',
  },
  changeLot: {
    method: 'PUT',
    path: '/api/shelf/lots/:lot',
    roles: maker,
    params: lotPath,
    body: LotChange,
    answer: LotAccount,
    says: 'dates, price, density and label of a bottle',
  },
  countLot: {
    method: 'POST',
    path: '/api/shelf/lots/:lot/counts',
    roles: maker,
    params: lotPath,
    body: LotCount,
    answer: LotAccount,
    says: 'what a bottle holds by the balance; the difference is put on its account',
  },
  readLot: {
    method: 'GET',
    path: '/api/shelf/lots/:lot',
    roles: maker,
    params: lotPath,
    answer: LotAccount,
    says: 'one bottle and every gram in and out of it',
  },
  makeStock: {
    method: 'POST',
    path: '/api/shelf/stocks',
    roles: maker,
    body: NewStock,
    answer: LotAccount,
    says: 'a stock made of bottles, which it takes its material from',
  },
  readLedger: {
    method: 'GET',
    path: '/api/trials/:trial/ledger',
    roles: maker,
    params: trialPath,
    answer: Ledger,
    says: 'what every gram of a trial went into',
  },
} as const satisfies Record<string, Route>;
