-- Where a lamp hangs and what UV index it gives, what is plugged in where, and what can burn.
ALTER TABLE room ADD COLUMN country TEXT NOT NULL DEFAULT '';

ALTER TABLE socket ADD COLUMN plugged_into TEXT REFERENCES socket (id);
ALTER TABLE socket ADD COLUMN capacity_w REAL;
ALTER TABLE socket ADD COLUMN residual_current_device TEXT NOT NULL DEFAULT 'unknown';
ALTER TABLE socket ADD COLUMN drip_loops TEXT NOT NULL DEFAULT 'unknown';

ALTER TABLE timer ADD COLUMN capacity_w REAL;
ALTER TABLE thermostat ADD COLUMN capacity_w REAL;

ALTER TABLE enclosure ADD COLUMN mesh_open_share REAL;

ALTER TABLE heater ADD COLUMN behind TEXT NOT NULL DEFAULT '';
ALTER TABLE heater ADD COLUMN air_gap_m REAL;
ALTER TABLE heater ADD COLUMN nearest TEXT NOT NULL DEFAULT '';
ALTER TABLE heater ADD COLUMN clearance_m REAL;
ALTER TABLE heater ADD COLUMN within_reach TEXT NOT NULL DEFAULT 'unknown';

ALTER TABLE lamp ADD COLUMN length_m REAL;
ALTER TABLE lamp ADD COLUMN beam_deg REAL;
ALTER TABLE lamp ADD COLUMN reflector TEXT NOT NULL DEFAULT 'unknown';
ALTER TABLE lamp ADD COLUMN uv_table TEXT;
ALTER TABLE lamp ADD COLUMN from_left_m REAL;
ALTER TABLE lamp ADD COLUMN from_front_m REAL;
ALTER TABLE lamp ADD COLUMN above_floor_m REAL;
ALTER TABLE lamp ADD COLUMN nearest TEXT NOT NULL DEFAULT '';
ALTER TABLE lamp ADD COLUMN clearance_m REAL;
ALTER TABLE lamp ADD COLUMN within_reach TEXT NOT NULL DEFAULT 'unknown';

ALTER TABLE safety_device ADD COLUMN expires TEXT;
ALTER TABLE safety_device ADD COLUMN by_the_door TEXT NOT NULL DEFAULT 'unknown';

CREATE TABLE appliance (
  nr INTEGER PRIMARY KEY REFERENCES thing (nr),
  id TEXT NOT NULL UNIQUE,
  kind TEXT NOT NULL,
  name TEXT NOT NULL,
  enclosure TEXT REFERENCES enclosure (id),
  place TEXT NOT NULL,
  power_w REAL,
  running_share REAL,
  in_water INTEGER NOT NULL CHECK (in_water IN (0, 1)),
  timer TEXT REFERENCES timer (id),
  socket TEXT REFERENCES socket (id),
  retired TEXT
) STRICT;
