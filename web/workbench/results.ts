/** What the pages read of stored results; the documents hold more. */
export interface PlanResult {
  mixes: PlannedMix[];
  model: string;
  terms: string[];
  averageVariance: number | null;
  logDeterminant: number | null;
  maximumVariance: number | null;
  corners: Record<string, number>[];
  warnings: string[];
}

export interface PlannedMix {
  mix: string;
  blend?: string;
  repeats?: string | null;
  again?: boolean;
  ratios: Record<string, number>;
  grams: Record<string, number>;
  settings: Record<string, number>;
  weigh?: { component: string; strength: number; grams: number }[];
  why: string;
}

export interface Test {
  f: number | null;
  numDf: number | null;
  denDf: number | null;
  p: number | null;
}

export interface PanelAttribute {
  id: string;
  variance: Record<string, number | null>;
  mixTest: Test | null;
  means: { mix: string; mean: number | null; standardError: number | null }[];
  differences: Difference[];
  assessors: AssessorReading[];
  warnings?: string[];
}

export interface Difference {
  a: string;
  b: string;
  difference: number;
  standardError: number | null;
  p: number | null;
}

export interface AssessorReading {
  assessor: string;
  discrimination: Test | null;
  repeatability: number | null;
  agreement: number | null;
  scaling: number | null;
}

export interface FitAttribute {
  id: string;
  model: string | null;
  coefficients: {
    term: string;
    estimate: number;
    standardError: number | null;
    denDf: number | null;
    p: number | null;
  }[];
  blending: Test | null;
  effects: { component: string; change: number | null; standardError: number | null; p: number | null }[];
  variance: Record<string, number | null>;
  lackOfFit: (Test & { against?: string }) | null;
  leaveOneMixOut: { rmse: number | null; q2: number | null } | null;
  rSquared: number | null;
  reference?: { mean: number; standardError: number | null } | null;
  warnings?: string[];
}

export interface ReadResult {
  panel: { attributes: PanelAttribute[]; warnings?: string[] };
  fit: { attributes: FitAttribute[]; warnings?: string[] };
}

export interface Predicted {
  mean: number | null;
  interval: [number, number] | null;
  standardError?: number | null;
  chance?: number | null;
}

export interface PredictResult {
  rows: {
    name: string;
    ratios: Record<string, number>;
    settings: Record<string, number>;
    attributes: (Predicted & { id: string })[];
    chance: number | null;
  }[];
  warnings?: string[];
}

export interface Candidate {
  ratios: Record<string, number>;
  grams: Record<string, number>;
  settings: Record<string, number>;
  predicted: Record<string, Predicted>;
  chance: number | null;
}

export interface Proposal extends Candidate {
  mix: string;
  again?: boolean;
  why: string;
  fromLeftovers?: unknown;
}

export interface NextResult {
  proposals: Proposal[];
  best: Candidate & { distance: number | null };
  stop: { advised: boolean; because: string };
  warnings?: string[];
}
