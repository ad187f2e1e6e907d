import { z } from 'zod';
import { AnswerBatch, AnswerReceipt, BallotView, ConsentMessage, ProgressMessage } from './ballot.ts';
import { Brief, Id, Name } from './brief.ts';

/** Who may call a route. `anyone` needs no right at all; a taster's token reaches its own ballot only. */
export type Role = 'maker' | 'pourer' | 'taster' | 'anyone';

/** One fault in what was sent or read: where, what was found, what is allowed. */
export const Fault = z.object({
  where: z.string(),
  found: z.string().optional(),
  allowed: z.string().optional(),
  message: z.string(),
});
export type Fault = z.infer<typeof Fault>;

/** The one shape of every refused request. */
export const ErrorAnswer = z.object({
  error: z.object({
    code: z.enum([
      'bad-input',
      'not-allowed',
      'not-found',
      'conflict',
      'too-large',
      'too-many',
      'unavailable',
      'internal',
    ]),
    message: z.string(),
    faults: z.array(Fault),
  }),
});
export type ErrorAnswer = z.infer<typeof ErrorAnswer>;

export const NumberById = z.record(z.string(), z.number());

export const StepName = z.enum(['plan', 'weigh', 'rest', 'dose', 'pour', 'taste', 'read']);
export type StepName = z.infer<typeof StepName>;

/** A step of a round as the spine shows it. */
export const Step = z.object({
  step: StepName,
  state: z.enum(['waiting', 'now', 'done']),
  /** One sentence: what has been done or is left to do. */
  says: z.string(),
});

export const RoundMix = z.object({
  mix: Name,
  blend: Name,
  /** This mix is a fresh weighing of another. */
  repeats: z.string().nullable(),
  /** An earlier mix poured once more under its own name. */
  again: z.boolean(),
  planned: z.object({ ratios: NumberById, grams: NumberById, settings: NumberById }),
  /** Grams as weighed; null until weighed. */
  weighed: NumberById.nullable(),
  weighedAt: z.string().nullable(),
  why: z.string(),
  note: z.string(),
});
export type RoundMix = z.infer<typeof RoundMix>;

export const SittingSummary = z.object({
  sitting: z.string(),
  label: Name,
  state: z.enum(['poured', 'open', 'closed']),
  key: z.enum(['sealed', 'opened']),
  assessors: z.array(Name),
  cups: z.int(),
  answers: z.int(),
  answersExpected: z.int(),
});
export type SittingSummary = z.infer<typeof SittingSummary>;

export const RoundView = z.object({
  round: z.int(),
  state: z.enum(['open', 'read']),
  steps: z.array(Step),
  mixes: z.array(RoundMix),
  sittings: z.array(SittingSummary),
  /** The plan or proposals this round was accepted from. */
  reading: z.string().nullable(),
  restHours: z.number(),
});
export type RoundView = z.infer<typeof RoundView>;

export const TrialSummary = z.object({
  trial: z.string(),
  name: z.string(),
  demo: z.boolean(),
  changed: z.string(),
  rounds: z.int(),
  /** One sentence: where the trial stands. */
  stands: z.string(),
});

export const TrialView = TrialSummary.extend({
  brief: Brief,
  briefVersion: z.int(),
  warnings: z.array(z.string()),
  roundViews: z.array(RoundView),
  /** Latest stored reading of each kind, for deep links. */
  readings: z.array(
    z.object({ reading: z.string(), kind: z.string(), round: z.int().nullable(), at: z.string() }),
  ),
});
export type TrialView = z.infer<typeof TrialView>;

export const Act = z.object({ at: z.string(), who: z.string(), act: z.string(), detail: z.string() });

/** A long computation in a worker thread. `result` appears when done. */
export const Job = z.object({
  job: z.string(),
  kind: z.enum(['plan', 'read', 'next', 'predict']),
  state: z.enum(['running', 'done', 'failed', 'cancelled']),
  share: z.number(),
  doing: z.string(),
  /** The stored reading that holds the result. */
  reading: z.string().nullable(),
  error: ErrorAnswer.shape.error.nullable(),
});
export type Job = z.infer<typeof Job>;

/** What was computed, from what: input, seed and version are enough to compute it again. */
export const Reading = z.object({
  reading: z.string(),
  kind: z.enum(['plan', 'read', 'next', 'predict']),
  round: z.int().nullable(),
  at: z.string(),
  seed: z.int(),
  version: z.string(),
  input: z.unknown(),
  /** The same document the command prints with --json; for `read`: {panel, fit}. */
  result: z.unknown(),
});
export type Reading = z.infer<typeof Reading>;

export const PlanRequest = z.object({
  mixes: z.int().min(1).max(200),
  model: z.enum(['linear', 'quadratic', 'special-cubic', 'full-cubic']).optional(),
  criterion: z.enum(['average-variance', 'determinant']).optional(),
  replicated: z.int().min(0).max(100).optional(),
  seed: z.int().min(0).max(4294967295).optional(),
});

export const NextRequest = z.object({
  count: z.int().min(1).max(20),
  seed: z.int().min(0).max(4294967295).optional(),
});
export const PredictRequest = z.object({
  rows: z
    .array(z.object({ name: z.string().optional(), ratios: NumberById, settings: NumberById }))
    .min(1)
    .max(500),
});

/** Accepts a plan or a set of proposals as a new round; `only` names the mixes to keep. */
export const RoundRequest = z.object({
  reading: z.string(),
  only: z.array(Name).optional(),
  restHours: z.number().min(0).max(10000).default(24),
});

export const WeighingRequest = z.object({ grams: NumberById, note: z.string().max(500).default('') });

export const StepRequest = z.object({
  step: z.enum(['rest', 'dose', 'pour']),
  done: z.boolean(),
  note: z.string().max(500).default(''),
});

export const SittingRequest = z.object({
  label: Name,
  assessors: z.array(Name).min(1).max(200),
  /** Assessors who know the formula; their scores are read with and without. */
  knowing: z.array(Name).default([]),
  mixes: z.array(Name).min(1),
  replicates: z.int().min(1).max(20).default(1),
  reference: z.boolean().default(true),
  warmup: z.boolean().default(false),
});

/** Links are shown once, when the sitting is drawn or a link is renewed: only their hashes are stored. */
export const SittingLinks = z.object({
  sitting: z.string(),
  links: z.array(z.object({ assessor: Name, address: z.string(), qr: z.string() })),
});

export const Live = z.object({
  sitting: z.string(),
  state: z.enum(['poured', 'open', 'closed']),
  trays: z.array(
    z.object({
      assessor: Name,
      mayTaste: z.boolean(),
      cups: z.int(),
      /** Cups with every question answered. */
      filled: z.int(),
      at: z.int(),
      lastHeard: z.string().nullable(),
    }),
  ),
});
export type Live = z.infer<typeof Live>;

export const PouringSheet = z.object({
  trial: z.string(),
  sitting: z.string(),
  label: Name,
  cupMillilitres: z.number().nullable(),
  trays: z.array(
    z.object({ assessor: Name, cups: z.array(z.object({ position: z.int(), code: z.string(), mix: Name })) }),
  ),
  /** Dose of each mix in mL per litre of drink, where the brief has one. */
  doses: NumberById,
});

export const KeyRequest = z.object({ why: z.string().min(1).max(500) });

const trialPath = z.object({ trial: z.string() });
const roundPath = trialPath.extend({ round: z.coerce.number().int().min(1) });
const mixPath = roundPath.extend({ mix: Name });
const sittingPath = trialPath.extend({ sitting: z.string() });

interface Route {
  method: 'GET' | 'POST' | 'PUT' | 'DELETE';
  path: string;
  roles: readonly Role[];
  params?: z.ZodObject;
  body?: z.ZodType | typeof AnswerBatch | typeof ConsentMessage | typeof ProgressMessage;
  answer: z.ZodType | typeof BallotView | typeof AnswerReceipt;
  /** True where the answer is a stream of server-sent events, each holding `answer`. */
  stream?: boolean;
  says: string;
}

const maker: readonly Role[] = ['maker'];
const pourer: readonly Role[] = ['maker', 'pourer'];
const taster: readonly Role[] = ['taster'];
const ok = z.object({ done: z.literal(true) });

/** Every HTTP route of the workbench: the server, the pages, the role tests and OpenAPI are made from this list. */
export const ROUTES = {
  health: {
    method: 'GET',
    path: '/api/health',
    roles: ['anyone'],
    answer: z.object({ version: z.string() }),
    says: 'is the workbench there',
  },
  me: {
    method: 'GET',
    path: '/api/me',
    roles: ['anyone'],
    answer: z.object({ role: z.enum(['maker', 'pourer', 'taster', 'anyone']), shared: z.boolean() }),
    says: 'the role of the caller',
  },

  listTrials: {
    method: 'GET',
    path: '/api/trials',
    roles: maker,
    answer: z.array(TrialSummary),
    says: 'all trials',
  },
  createTrial: {
    method: 'POST',
    path: '/api/trials',
    roles: maker,
    body: Brief,
    answer: TrialView,
    says: 'a new trial from a brief',
  },
  readTrial: {
    method: 'GET',
    path: '/api/trials/:trial',
    roles: maker,
    params: trialPath,
    answer: TrialView,
    says: 'one trial with its rounds',
  },
  changeBrief: {
    method: 'PUT',
    path: '/api/trials/:trial/brief',
    roles: maker,
    params: trialPath,
    body: Brief,
    answer: TrialView,
    says: 'a new version of the brief',
  },
  listActs: {
    method: 'GET',
    path: '/api/trials/:trial/acts',
    roles: maker,
    params: trialPath,
    answer: z.array(Act),
    says: 'who did what when',
  },

  startPlan: {
    method: 'POST',
    path: '/api/trials/:trial/plans',
    roles: maker,
    params: trialPath,
    body: PlanRequest,
    answer: Job,
    says: 'plan mixes in a worker',
  },
  startNext: {
    method: 'POST',
    path: '/api/trials/:trial/next',
    roles: maker,
    params: trialPath,
    body: NextRequest,
    answer: Job,
    says: 'propose the next mixes in a worker',
  },
  startPredict: {
    method: 'POST',
    path: '/api/trials/:trial/predictions',
    roles: maker,
    params: trialPath,
    body: PredictRequest,
    answer: Job,
    says: 'predict given ratios in a worker',
  },
  startReading: {
    method: 'POST',
    path: '/api/trials/:trial/readings',
    roles: maker,
    params: trialPath,
    body: z.object({ setAside: z.array(Name).default([]) }),
    answer: Job,
    says: 'read panel and ratios from all scores so far',
  },
  readReading: {
    method: 'GET',
    path: '/api/trials/:trial/readings/:reading',
    roles: maker,
    params: trialPath.extend({ reading: z.string() }),
    answer: Reading,
    says: 'a stored result',
  },
  readJob: {
    method: 'GET',
    path: '/api/jobs/:job',
    roles: maker,
    params: z.object({ job: z.string() }),
    answer: Job,
    says: 'how far a computation is',
  },
  followJob: {
    method: 'GET',
    path: '/api/jobs/:job/events',
    roles: maker,
    params: z.object({ job: z.string() }),
    answer: Job,
    stream: true,
    says: 'a computation as it goes',
  },
  cancelJob: {
    method: 'DELETE',
    path: '/api/jobs/:job',
    roles: maker,
    params: z.object({ job: z.string() }),
    answer: Job,
    says: 'stop a computation',
  },

  acceptRound: {
    method: 'POST',
    path: '/api/trials/:trial/rounds',
    roles: maker,
    params: trialPath,
    body: RoundRequest,
    answer: RoundView,
    says: 'make a round of a plan or of proposals',
  },
  readRound: {
    method: 'GET',
    path: '/api/trials/:trial/rounds/:round',
    roles: maker,
    params: roundPath,
    answer: RoundView,
    says: 'one round',
  },
  weighMix: {
    method: 'PUT',
    path: '/api/trials/:trial/rounds/:round/mixes/:mix/weighing',
    roles: maker,
    params: mixPath,
    body: WeighingRequest,
    answer: RoundView,
    says: 'what the balance showed',
  },
  markStep: {
    method: 'PUT',
    path: '/api/trials/:trial/rounds/:round/steps',
    roles: maker,
    params: roundPath,
    body: StepRequest,
    answer: RoundView,
    says: 'rested, dosed or poured',
  },
  drawSitting: {
    method: 'POST',
    path: '/api/trials/:trial/rounds/:round/sittings',
    roles: maker,
    params: roundPath,
    body: SittingRequest,
    answer: SittingLinks,
    says: 'draw codes and serving orders, and a link for each taster',
  },
  renewLink: {
    method: 'POST',
    path: '/api/trials/:trial/sittings/:sitting/links',
    roles: maker,
    params: sittingPath,
    body: z.object({ assessor: Name }),
    answer: SittingLinks,
    says: 'a new link for one taster',
  },
  openSitting: {
    method: 'POST',
    path: '/api/trials/:trial/sittings/:sitting/opening',
    roles: maker,
    params: sittingPath,
    answer: SittingSummary,
    says: 'let the tasting begin',
  },
  closeSitting: {
    method: 'POST',
    path: '/api/trials/:trial/sittings/:sitting/closing',
    roles: maker,
    params: sittingPath,
    answer: SittingSummary,
    says: 'end the tasting',
  },
  readLive: {
    method: 'GET',
    path: '/api/trials/:trial/sittings/:sitting/live',
    roles: pourer,
    params: sittingPath,
    answer: Live,
    says: 'who is at which cup',
  },
  followLive: {
    method: 'GET',
    path: '/api/trials/:trial/sittings/:sitting/live/events',
    roles: pourer,
    params: sittingPath,
    answer: Live,
    stream: true,
    says: 'who is at which cup, as it changes',
  },
  readPouring: {
    method: 'GET',
    path: '/api/trials/:trial/sittings/:sitting/pouring',
    roles: pourer,
    params: sittingPath,
    answer: PouringSheet,
    says: 'trays, codes and mixes',
  },
  openKey: {
    method: 'POST',
    path: '/api/trials/:trial/sittings/:sitting/key',
    roles: maker,
    params: sittingPath,
    body: KeyRequest,
    answer: SittingSummary,
    says: 'open the key, with a reason, on record',
  },
  simulateSitting: {
    method: 'POST',
    path: '/api/trials/:trial/sittings/:sitting/simulation',
    roles: maker,
    params: sittingPath,
    answer: SittingSummary,
    says: 'demo only: let the invented tasters answer',
  },

  readBallot: {
    method: 'GET',
    path: '/api/ballot',
    roles: taster,
    answer: BallotView,
    says: 'the own ballot',
  },
  giveConsent: {
    method: 'POST',
    path: '/api/ballot/consent',
    roles: taster,
    body: ConsentMessage,
    answer: ok,
    says: 'I may taste',
  },
  sendAnswers: {
    method: 'POST',
    path: '/api/ballot/answers',
    roles: taster,
    body: AnswerBatch,
    answer: AnswerReceipt,
    says: 'answers, each stored once',
  },
  sendProgress: {
    method: 'PUT',
    path: '/api/ballot/progress',
    roles: taster,
    body: ProgressMessage,
    answer: ok,
    says: 'the cup now in hand',
  },
} as const satisfies Record<string, Route>;

export type RouteName = keyof typeof ROUTES;
export { Id };
