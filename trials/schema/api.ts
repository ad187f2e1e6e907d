import { z } from 'zod';
import { AnswerBatch, AnswerReceipt, BallotView, ConsentMessage, ProgressMessage } from './ballot.ts';
import { Brief, Name } from './brief.ts';
import {
  Act,
  Backup,
  Job,
  KeyRequest,
  Live,
  NextRequest,
  PaperBallot,
  PlanRequest,
  PourerLink,
  PouringSheet,
  PredictRequest,
  Reading,
  RoundRequest,
  RoundView,
  SittingLinks,
  SittingRequest,
  SittingSummary,
  StepRequest,
  TrialSummary,
  TrialView,
  WeighingRequest,
} from './shapes.ts';

export * from './shapes.ts';

/** Who may call a route. `anyone` needs no right at all; a taster's token reaches its own ballot only. */
export type Role = 'maker' | 'pourer' | 'taster' | 'anyone';

const trialPath = z.object({ trial: z.string() });
const roundPath = trialPath.extend({ round: z.coerce.number().int().min(1) });
const mixPath = roundPath.extend({ mix: Name });
const sittingPath = trialPath.extend({ sitting: z.string() });

/** One row of the route table. */
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
    answer: z.object({
      role: z.enum(['maker', 'pourer', 'taster', 'anyone']),
      shared: z.boolean(),
      /** The sitting that a pourer or taster was let into. */
      sitting: z.object({ trial: z.string(), sitting: z.string() }).nullable(),
      /** False on plain http beyond this machine: what is sent can be read on the network. */
      secret: z.boolean(),
    }),
    says: 'the role of the caller',
  },
  openapi: {
    method: 'GET',
    path: '/api/openapi.json',
    roles: ['anyone'],
    answer: z.record(z.string(), z.unknown()),
    says: 'this interface, described for machines',
  },
  enter: {
    method: 'POST',
    path: '/api/access',
    roles: ['anyone'],
    body: z.object({ passcode: z.string().min(1).max(200) }),
    answer: ok,
    says: "the maker's passcode for a cookie",
  },
  enterToPour: {
    method: 'POST',
    path: '/api/access/pourer',
    roles: ['anyone'],
    body: z.object({ token: z.string().min(1).max(100) }),
    answer: z.object({ trial: z.string(), sitting: z.string() }),
    says: "a pourer's link for a cookie",
  },
  leave: {
    method: 'DELETE',
    path: '/api/access',
    roles: ['anyone'],
    answer: ok,
    says: 'give the cookie back',
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
  pourerLink: {
    method: 'POST',
    path: '/api/trials/:trial/sittings/:sitting/pourer',
    roles: maker,
    params: sittingPath,
    answer: PourerLink,
    says: 'a link that shows one sitting to whoever pours',
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
  enterPaper: {
    method: 'PUT',
    path: '/api/trials/:trial/sittings/:sitting/paper',
    roles: maker,
    params: sittingPath,
    body: PaperBallot,
    answer: SittingSummary,
    says: 'enter a ballot that was filled in on paper',
  },
  simulateSitting: {
    method: 'POST',
    path: '/api/trials/:trial/sittings/:sitting/simulation',
    roles: maker,
    params: sittingPath,
    answer: SittingSummary,
    says: 'demo only: let the invented tasters answer',
  },

  exportTrial: {
    method: 'GET',
    path: '/api/trials/:trial/export',
    roles: maker,
    params: trialPath,
    answer: z.record(z.string(), z.unknown()),
    says: 'a whole trial as one document',
  },
  importTrial: {
    method: 'POST',
    path: '/api/imports',
    roles: maker,
    body: z.record(z.string(), z.unknown()),
    answer: TrialView,
    says: 'a trial from such a document',
  },
  exportTaster: {
    method: 'GET',
    path: '/api/trials/:trial/assessors/:assessor',
    roles: maker,
    params: trialPath.extend({ assessor: Name }),
    answer: z.record(z.string(), z.unknown()),
    says: 'all that is kept of one taster',
  },
  eraseTaster: {
    method: 'DELETE',
    path: '/api/trials/:trial/assessors/:assessor',
    roles: maker,
    params: trialPath.extend({ assessor: Name }),
    answer: z.object({ name: Name, backups: z.array(z.string()) }),
    says: 'put a number in place of a name, everywhere; older copies that still hold it are listed',
  },
  listBackups: {
    method: 'GET',
    path: '/api/backups',
    roles: maker,
    answer: z.array(Backup),
    says: 'copies of the data file',
  },
  makeBackup: {
    method: 'POST',
    path: '/api/backups',
    roles: maker,
    answer: Backup,
    says: 'copy the data file now',
  },
  restoreBackup: {
    method: 'POST',
    path: '/api/backups/:backup/restoring',
    roles: maker,
    params: z.object({ backup: z.string().max(200) }),
    answer: Backup,
    says: 'put a copy in place of the data; what is there now is kept as a copy first',
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
