-- What the labels of jars say, what a supply is as food, and foods of the keeper's own.
ALTER TABLE jar ADD COLUMN calcium_share REAL;
ALTER TABLE jar ADD COLUMN vitamin_d3_iu_per_g REAL;
ALTER TABLE jar ADD COLUMN retinol_iu_per_g REAL;
ALTER TABLE jar ADD COLUMN carotenoid_iu_per_g REAL;
ALTER TABLE jar ADD COLUMN vitamin_e_iu_per_g REAL;
-- The food's id may be one of the program's own table, so it refers to no other table here.
ALTER TABLE supply ADD COLUMN food TEXT;
ALTER TABLE supply ADD COLUMN piece_mass_kg REAL;

CREATE TABLE food (
  nr INTEGER PRIMARY KEY REFERENCES thing (nr),
  id TEXT NOT NULL UNIQUE,
  name TEXT NOT NULL,
  kind TEXT NOT NULL,
  piece_mass_kg REAL,
  water_share REAL,
  energy_kcal_per_100g REAL,
  calcium_mg_per_kg REAL,
  phosphorus_mg_per_kg REAL,
  retinol_iu_per_kg REAL,
  carotenoid_iu_per_kg REAL,
  vitamin_d3_iu_per_kg REAL,
  vitamin_e_iu_per_kg REAL,
  oxalic_acid_g_per_100g REAL,
  source TEXT NOT NULL
) STRICT;
