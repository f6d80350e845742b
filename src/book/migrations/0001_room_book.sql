-- The room book, first form. Quantities are SI, the unit last in the column's name; shares are of
-- 1; days are ISO dates on the room's calendar; moments are milliseconds since 1970 in UTC.

-- Everything that has an id, so that the notebook can point to it by one small number.
CREATE TABLE thing (
  nr INTEGER PRIMARY KEY,
  kind TEXT NOT NULL,
  id TEXT NOT NULL,
  UNIQUE (kind, id)
) STRICT;

CREATE TABLE room (
  nr INTEGER PRIMARY KEY REFERENCES thing (nr),
  name TEXT NOT NULL,
  place TEXT NOT NULL,
  latitude REAL,
  longitude REAL,
  zone TEXT NOT NULL,
  units TEXT NOT NULL,
  vulnerable_person TEXT NOT NULL
) STRICT;

CREATE TABLE keeper (
  nr INTEGER PRIMARY KEY REFERENCES thing (nr),
  id TEXT NOT NULL UNIQUE,
  role TEXT NOT NULL
) STRICT;

CREATE TABLE species (
  nr INTEGER PRIMARY KEY REFERENCES thing (nr),
  id TEXT NOT NULL UNIQUE,
  common_name TEXT NOT NULL,
  scientific_name TEXT NOT NULL,
  "group" TEXT NOT NULL,
  activity TEXT NOT NULL
) STRICT;

CREATE TABLE circuit (
  nr INTEGER PRIMARY KEY REFERENCES thing (nr),
  id TEXT NOT NULL UNIQUE,
  name TEXT NOT NULL,
  capacity_w REAL,
  residual_current_device TEXT NOT NULL
) STRICT;

CREATE TABLE socket (
  nr INTEGER PRIMARY KEY REFERENCES thing (nr),
  id TEXT NOT NULL UNIQUE,
  circuit TEXT REFERENCES circuit (id),
  place TEXT NOT NULL
) STRICT;

CREATE TABLE timer (
  nr INTEGER PRIMARY KEY REFERENCES thing (nr),
  id TEXT NOT NULL UNIQUE,
  "on" TEXT,
  "off" TEXT,
  socket TEXT REFERENCES socket (id)
) STRICT;

CREATE TABLE enclosure (
  nr INTEGER PRIMARY KEY REFERENCES thing (nr),
  id TEXT NOT NULL UNIQUE,
  name TEXT NOT NULL,
  place TEXT NOT NULL,
  rack TEXT NOT NULL,
  shelf INTEGER,
  position INTEGER,
  length_m REAL,
  width_m REAL,
  height_m REAL,
  front TEXT,
  back TEXT,
  "left" TEXT,
  "right" TEXT,
  top TEXT,
  bottom TEXT,
  lid_covered_share REAL,
  vents_low_m2 REAL,
  vents_high_m2 REAL,
  door_gap_m REAL,
  substrate TEXT NOT NULL,
  substrate_depth_m REAL,
  furnishings TEXT NOT NULL,
  water_dish INTEGER NOT NULL CHECK (water_dish IN (0, 1)),
  retired TEXT
) STRICT;

CREATE TABLE thermostat (
  nr INTEGER PRIMARY KEY REFERENCES thing (nr),
  id TEXT NOT NULL UNIQUE,
  kind TEXT NOT NULL,
  enclosure TEXT REFERENCES enclosure (id),
  probe_place TEXT NOT NULL,
  day_k REAL,
  night_k REAL,
  hysteresis_k REAL,
  socket TEXT REFERENCES socket (id),
  retired TEXT
) STRICT;

CREATE TABLE heater (
  nr INTEGER PRIMARY KEY REFERENCES thing (nr),
  id TEXT NOT NULL UNIQUE,
  kind TEXT NOT NULL,
  enclosure TEXT REFERENCES enclosure (id),
  place TEXT NOT NULL,
  power_w REAL,
  length_m REAL,
  width_m REAL,
  thermostat TEXT REFERENCES thermostat (id),
  socket TEXT REFERENCES socket (id),
  retired TEXT
) STRICT;

CREATE TABLE lamp (
  nr INTEGER PRIMARY KEY REFERENCES thing (nr),
  id TEXT NOT NULL UNIQUE,
  kind TEXT NOT NULL,
  enclosure TEXT REFERENCES enclosure (id),
  place TEXT NOT NULL,
  power_w REAL,
  uvb INTEGER NOT NULL CHECK (uvb IN (0, 1)),
  distance_m REAL,
  timer TEXT REFERENCES timer (id),
  thermostat TEXT REFERENCES thermostat (id),
  socket TEXT REFERENCES socket (id),
  installed TEXT,
  retired TEXT
) STRICT;

CREATE TABLE instrument (
  nr INTEGER PRIMARY KEY REFERENCES thing (nr),
  id TEXT NOT NULL UNIQUE,
  kind TEXT NOT NULL,
  enclosure TEXT REFERENCES enclosure (id),
  place TEXT NOT NULL,
  resolution_kg REAL,
  retired TEXT
) STRICT;

CREATE TABLE tool (
  nr INTEGER PRIMARY KEY REFERENCES thing (nr),
  id TEXT NOT NULL UNIQUE,
  kind TEXT NOT NULL,
  enclosure TEXT REFERENCES enclosure (id),
  mark TEXT NOT NULL
) STRICT;

CREATE TABLE jar (
  nr INTEGER PRIMARY KEY REFERENCES thing (nr),
  id TEXT NOT NULL UNIQUE,
  contents TEXT NOT NULL,
  label TEXT NOT NULL,
  opened TEXT,
  expires TEXT,
  retired TEXT
) STRICT;

CREATE TABLE supply (
  nr INTEGER PRIMARY KEY REFERENCES thing (nr),
  id TEXT NOT NULL UNIQUE,
  kind TEXT NOT NULL,
  name TEXT NOT NULL,
  count INTEGER,
  mass_kg REAL,
  volume_m3 REAL,
  expires TEXT,
  place TEXT NOT NULL
) STRICT;

CREATE TABLE safety_device (
  nr INTEGER PRIMARY KEY REFERENCES thing (nr),
  id TEXT NOT NULL UNIQUE,
  kind TEXT NOT NULL,
  place TEXT NOT NULL,
  battery TEXT
) STRICT;

CREATE TABLE animal (
  nr INTEGER PRIMARY KEY REFERENCES thing (nr),
  id TEXT NOT NULL UNIQUE,
  name TEXT NOT NULL,
  species TEXT NOT NULL,      -- built in, or a row of species
  sex TEXT NOT NULL,
  count INTEGER NOT NULL CHECK (count > 0),
  born TEXT,
  arrived TEXT,
  "left" TEXT,
  enclosure TEXT REFERENCES enclosure (id),
  breeding INTEGER NOT NULL CHECK (breeding IN (0, 1)),
  marks TEXT NOT NULL
) STRICT;

CREATE TABLE override (
  nr INTEGER PRIMARY KEY REFERENCES thing (nr),
  id TEXT NOT NULL UNIQUE,
  animal TEXT REFERENCES animal (id),
  species TEXT,
  key TEXT NOT NULL,
  value TEXT NOT NULL,
  reason TEXT NOT NULL
) STRICT;

CREATE TABLE task (
  nr INTEGER PRIMARY KEY REFERENCES thing (nr),
  id TEXT NOT NULL UNIQUE,
  title TEXT NOT NULL,
  every_s REAL NOT NULL,
  start TEXT,
  enclosure TEXT REFERENCES enclosure (id),
  animal TEXT REFERENCES animal (id),
  detail TEXT NOT NULL,
  retired TEXT
) STRICT;

-- The notebook. Ink: rows are only ever added. `chain` is a hash of the row and of the chain
-- before it, so that a row changed or taken out behind the program's back is noticed.
CREATE TABLE entry_kind (
  nr INTEGER PRIMARY KEY,
  word TEXT NOT NULL UNIQUE
) STRICT;

CREATE TABLE entry (
  seq INTEGER PRIMARY KEY,
  id BLOB NOT NULL UNIQUE CHECK (length(id) = 16),
  at_ms INTEGER NOT NULL,
  kind INTEGER NOT NULL REFERENCES entry_kind (nr),
  subject INTEGER NOT NULL REFERENCES thing (nr),
  keeper INTEGER REFERENCES thing (nr),
  mass_kg REAL,
  length_m REAL,
  temperature_k REAL,
  humidity_share REAL,
  uvi REAL,
  count INTEGER,
  item TEXT,
  target INTEGER REFERENCES thing (nr),
  strikes BLOB REFERENCES entry (id),
  note TEXT,
  chain INTEGER NOT NULL
) STRICT;

CREATE INDEX entry_by_subject ON entry (subject, kind, at_ms);
CREATE INDEX entry_by_strikes ON entry (strikes) WHERE strikes IS NOT NULL;

CREATE TABLE notebook_end (
  only INTEGER PRIMARY KEY CHECK (only = 1),
  entries INTEGER NOT NULL,
  chain INTEGER NOT NULL
) STRICT;
INSERT INTO notebook_end VALUES (1, 0, 0);

-- A hash of all records as a room file, so that a record that was damaged or changed behind the
-- program's back is noticed.
CREATE TABLE records_seal (
  only INTEGER PRIMARY KEY CHECK (only = 1),
  hash INTEGER NOT NULL
) STRICT;

CREATE TRIGGER entry_is_never_changed BEFORE UPDATE ON entry
BEGIN
  SELECT RAISE(ABORT, 'the notebook is ink: entries are never changed');
END;
CREATE TRIGGER entry_is_never_removed BEFORE DELETE ON entry
BEGIN
  SELECT RAISE(ABORT, 'the notebook is ink: entries are never removed');
END;
