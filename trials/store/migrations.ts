/** Marks a file as this program's (`PRAGMA application_id`; the letters "Drop"). */
export const APPLICATION_ID = 0x44726f70;

/** Lifts or sets the triggers that keep a table append-only. */
function appendOnly(table: string): string {
  return ['UPDATE', 'DELETE']
    .map(
      (change) =>
        `CREATE TRIGGER ${table}_no_${change.toLowerCase()} BEFORE ${change} ON ${table} ` +
        `BEGIN SELECT RAISE(ABORT, '${table} are only ever added to'); END;`,
    )
    .join('\n');
}

/** Tables of the first version whose rows are only ever added to. */
const FIRST_APPEND_ONLY = [
  'acts',
  'answers',
  'briefs',
  'consents',
  'readings',
  'step_marks',
  'weighings',
] as const;

/** Append-only tables in which a person may be named: their guards are lifted for an erasure. */
export const APPEND_ONLY = [...FIRST_APPEND_ONLY, 'ladder_answers'] as const;

/** The statements that guard those tables, used again after an erasure. */
export const GUARDS: string = APPEND_ONLY.map(appendOnly).join('\n');

const FIRST = `
CREATE TABLE trials (
  trial TEXT PRIMARY KEY,
  name TEXT NOT NULL,
  demo INTEGER NOT NULL CHECK (demo IN (0, 1)),
  made TEXT NOT NULL,
  changed TEXT NOT NULL
) STRICT;

CREATE TABLE briefs (
  trial TEXT NOT NULL REFERENCES trials,
  version INTEGER NOT NULL CHECK (version >= 1),
  at TEXT NOT NULL,
  brief TEXT NOT NULL CHECK (json_valid(brief)),
  warnings TEXT NOT NULL CHECK (json_valid(warnings)),
  PRIMARY KEY (trial, version)
) STRICT;

CREATE TABLE readings (
  trial TEXT NOT NULL REFERENCES trials,
  reading TEXT NOT NULL,
  kind TEXT NOT NULL CHECK (kind IN ('plan', 'read', 'next', 'predict')),
  round INTEGER,
  at TEXT NOT NULL,
  seed INTEGER NOT NULL CHECK (seed BETWEEN 0 AND 4294967295),
  version TEXT NOT NULL,
  input TEXT NOT NULL CHECK (json_valid(input)),
  result TEXT NOT NULL CHECK (json_valid(result)),
  PRIMARY KEY (trial, reading)
) STRICT;

CREATE TABLE rounds (
  trial TEXT NOT NULL REFERENCES trials,
  round INTEGER NOT NULL CHECK (round >= 1),
  brief_version INTEGER NOT NULL,
  reading TEXT,
  rest_hours REAL NOT NULL CHECK (rest_hours >= 0),
  at TEXT NOT NULL,
  PRIMARY KEY (trial, round),
  FOREIGN KEY (trial, brief_version) REFERENCES briefs (trial, version),
  FOREIGN KEY (trial, reading) REFERENCES readings (trial, reading)
) STRICT;

CREATE TABLE mixes (
  trial TEXT NOT NULL,
  round INTEGER NOT NULL,
  mix TEXT NOT NULL,
  place INTEGER NOT NULL,
  blend TEXT NOT NULL,
  repeats TEXT,
  again INTEGER NOT NULL CHECK (again IN (0, 1)),
  planned TEXT NOT NULL CHECK (json_valid(planned)),
  why TEXT NOT NULL,
  PRIMARY KEY (trial, round, mix),
  FOREIGN KEY (trial, round) REFERENCES rounds (trial, round)
) STRICT;

CREATE UNIQUE INDEX one_mix_a_name ON mixes (trial, mix) WHERE again = 0;

CREATE TABLE weighings (
  id INTEGER PRIMARY KEY,
  trial TEXT NOT NULL,
  round INTEGER NOT NULL,
  blend TEXT NOT NULL,
  at TEXT NOT NULL,
  grams TEXT NOT NULL CHECK (json_valid(grams)),
  note TEXT NOT NULL,
  FOREIGN KEY (trial, round) REFERENCES rounds (trial, round)
) STRICT;

CREATE INDEX weighings_of_blend ON weighings (trial, blend, id);

CREATE TABLE step_marks (
  id INTEGER PRIMARY KEY,
  trial TEXT NOT NULL,
  round INTEGER NOT NULL,
  step TEXT NOT NULL CHECK (step IN ('rest', 'dose', 'pour')),
  done INTEGER NOT NULL CHECK (done IN (0, 1)),
  note TEXT NOT NULL,
  at TEXT NOT NULL,
  FOREIGN KEY (trial, round) REFERENCES rounds (trial, round)
) STRICT;

CREATE TABLE sittings (
  trial TEXT NOT NULL,
  sitting TEXT NOT NULL,
  round INTEGER NOT NULL,
  label TEXT NOT NULL,
  state TEXT NOT NULL CHECK (state IN ('poured', 'open', 'closed')),
  key TEXT NOT NULL CHECK (key IN ('sealed', 'opened')),
  seed INTEGER NOT NULL,
  questions TEXT NOT NULL CHECK (json_valid(questions)),
  rests TEXT NOT NULL CHECK (json_valid(rests)),
  drawn TEXT NOT NULL,
  opened TEXT,
  closed TEXT,
  key_opened TEXT,
  key_why TEXT,
  PRIMARY KEY (trial, sitting),
  UNIQUE (trial, label),
  FOREIGN KEY (trial, round) REFERENCES rounds (trial, round)
) STRICT;

CREATE TABLE seats (
  trial TEXT NOT NULL,
  sitting TEXT NOT NULL,
  assessor TEXT NOT NULL,
  place INTEGER NOT NULL,
  knowing INTEGER NOT NULL CHECK (knowing IN (0, 1)),
  token_hash TEXT UNIQUE,
  position INTEGER NOT NULL DEFAULT 0,
  heard TEXT,
  PRIMARY KEY (trial, sitting, assessor),
  FOREIGN KEY (trial, sitting) REFERENCES sittings (trial, sitting)
) STRICT;

CREATE TABLE cups (
  trial TEXT NOT NULL,
  sitting TEXT NOT NULL,
  assessor TEXT NOT NULL,
  position INTEGER NOT NULL CHECK (position >= 1),
  code TEXT NOT NULL CHECK (code GLOB '[1-9][0-9][0-9]'),
  mix TEXT NOT NULL,
  replicate TEXT NOT NULL,
  PRIMARY KEY (trial, sitting, assessor, position),
  UNIQUE (trial, sitting, assessor, code),
  FOREIGN KEY (trial, sitting, assessor) REFERENCES seats (trial, sitting, assessor) ON UPDATE CASCADE
) STRICT;

CREATE TABLE consents (
  id INTEGER PRIMARY KEY,
  trial TEXT NOT NULL,
  sitting TEXT NOT NULL,
  assessor TEXT NOT NULL,
  version TEXT NOT NULL,
  at TEXT NOT NULL,
  UNIQUE (trial, sitting, assessor, version),
  FOREIGN KEY (trial, sitting, assessor) REFERENCES seats (trial, sitting, assessor) ON UPDATE CASCADE
) STRICT;

CREATE TABLE answers (
  sequence INTEGER PRIMARY KEY AUTOINCREMENT,
  trial TEXT NOT NULL,
  sitting TEXT NOT NULL,
  assessor TEXT NOT NULL,
  message TEXT NOT NULL,
  code TEXT NOT NULL,
  question TEXT NOT NULL,
  value REAL,
  phone TEXT NOT NULL,
  count INTEGER NOT NULL,
  late INTEGER NOT NULL CHECK (late IN (0, 1)),
  received TEXT NOT NULL,
  UNIQUE (trial, sitting, assessor, message),
  FOREIGN KEY (trial, sitting, assessor, code)
    REFERENCES cups (trial, sitting, assessor, code) ON UPDATE CASCADE
) STRICT;

CREATE TABLE acts (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  trial TEXT,
  at TEXT NOT NULL,
  who TEXT NOT NULL,
  act TEXT NOT NULL,
  detail TEXT NOT NULL
) STRICT;

CREATE INDEX acts_of_trial ON acts (trial, id);

CREATE TABLE pourer_links (
  token_hash TEXT PRIMARY KEY,
  trial TEXT NOT NULL,
  sitting TEXT NOT NULL,
  made TEXT NOT NULL,
  FOREIGN KEY (trial, sitting) REFERENCES sittings (trial, sitting)
) STRICT;

CREATE TABLE cookies (
  hash TEXT PRIMARY KEY,
  role TEXT NOT NULL CHECK (role IN ('maker', 'pourer')),
  trial TEXT,
  sitting TEXT,
  made TEXT NOT NULL,
  ends TEXT NOT NULL,
  FOREIGN KEY (trial, sitting) REFERENCES sittings (trial, sitting)
) STRICT;

CREATE TABLE house (
  name TEXT PRIMARY KEY,
  value TEXT NOT NULL
) STRICT;

${FIRST_APPEND_ONLY.map(appendOnly).join('\n')}
`;

/** Answers in words, sets of cups, and how a sitting is held. */
const FORMS = `
ALTER TABLE answers ADD COLUMN words TEXT CHECK (words IS NULL OR value IS NULL);
ALTER TABLE cups ADD COLUMN part INTEGER CHECK (part >= 1);
ALTER TABLE sittings ADD COLUMN manner TEXT CHECK (json_valid(manner));
ALTER TABLE seats ADD COLUMN absent INTEGER CHECK (absent IN (0, 1));
`;

/** The maker's own materials; bottles on the shelf and stocks made of them; every gram in and out of each. */
const SHELF = `
CREATE TABLE materials (
  material TEXT PRIMARY KEY,
  at TEXT NOT NULL,
  entry TEXT NOT NULL CHECK (json_valid(entry))
) STRICT;

CREATE TABLE lots (
  lot TEXT PRIMARY KEY,
  material TEXT NOT NULL,
  made TEXT NOT NULL,
  entry TEXT NOT NULL CHECK (json_valid(entry))
) STRICT;

CREATE TABLE lot_moves (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  lot TEXT NOT NULL REFERENCES lots,
  at TEXT NOT NULL,
  grams REAL NOT NULL,
  kind TEXT NOT NULL CHECK (kind IN ('came', 'made', 'into stock', 'weighed', 'put back', 'counted')),
  trial TEXT REFERENCES trials,
  round INTEGER,
  blend TEXT,
  part TEXT,
  stock TEXT REFERENCES lots,
  note TEXT NOT NULL
) STRICT;

CREATE INDEX moves_of_lot ON lot_moves (lot, id);
CREATE INDEX moves_of_trial ON lot_moves (trial, blend, id);

${appendOnly('lot_moves')}
`;

/** Formula cards as they were published, one version after another. */
const CARDS = `
CREATE TABLE cards (
  trial TEXT NOT NULL REFERENCES trials,
  version INTEGER NOT NULL CHECK (version >= 1),
  at TEXT NOT NULL,
  reading TEXT NOT NULL,
  card TEXT NOT NULL CHECK (json_valid(card)),
  PRIMARY KEY (trial, version),
  FOREIGN KEY (trial, reading) REFERENCES readings (trial, reading)
) STRICT;

${appendOnly('cards')}
`;

/** Ladders of doses: the cups of each taster, and each answer as it came. */
const LADDERS = `
CREATE TABLE ladders (
  trial TEXT NOT NULL REFERENCES trials,
  ladder INTEGER NOT NULL CHECK (ladder >= 1),
  at TEXT NOT NULL,
  component TEXT NOT NULL,
  concentrations TEXT NOT NULL CHECK (json_valid(concentrations)),
  seed INTEGER CHECK (seed BETWEEN 0 AND 4294967295),
  away TEXT,
  PRIMARY KEY (trial, ladder)
) STRICT;

CREATE TABLE ladder_trays (
  trial TEXT NOT NULL,
  ladder INTEGER NOT NULL,
  assessor TEXT NOT NULL,
  place INTEGER NOT NULL,
  threes TEXT NOT NULL CHECK (json_valid(threes)),
  PRIMARY KEY (trial, ladder, assessor),
  FOREIGN KEY (trial, ladder) REFERENCES ladders (trial, ladder)
) STRICT;

CREATE TABLE ladder_answers (
  id INTEGER PRIMARY KEY,
  trial TEXT NOT NULL,
  ladder INTEGER NOT NULL,
  assessor TEXT NOT NULL,
  rung INTEGER NOT NULL CHECK (rung >= 1),
  code TEXT CHECK (code GLOB '[1-9][0-9][0-9]'),
  at TEXT NOT NULL,
  FOREIGN KEY (trial, ladder, assessor) REFERENCES ladder_trays (trial, ladder, assessor) ON UPDATE CASCADE
) STRICT;

CREATE INDEX answers_of_ladder ON ladder_answers (trial, ladder, id);

${appendOnly('ladder_answers')}
`;

/** Limits of the maker's own; one that is taken away stays, so that it can be brought back. */
const OWN_LIMITS = `
CREATE TABLE own_limits (
  id INTEGER PRIMARY KEY,
  at TEXT NOT NULL,
  entry TEXT NOT NULL CHECK (json_valid(entry)),
  away TEXT
) STRICT;
`;

/** Each text takes the data one version further; texts are added at the end and never changed once released. */
export const MIGRATIONS: readonly string[] = [FIRST, FORMS, SHELF, CARDS, LADDERS, OWN_LIMITS];
