-- Whether a bond or batch is at rest stands beside what was judged of it.
DROP INDEX live_awake;
ALTER TABLE live DROP COLUMN rest;

-- Bonds and batches: those to which nothing can happen by time alone with what was judged of them, the others with
-- nothing kept. What is kept may go at any time without loss.
CREATE TABLE rest (
  place    INTEGER PRIMARY KEY,
  first_ms INTEGER,
  last_ms  INTEGER,
  zone_min INTEGER,
  model    TEXT,
  kept     TEXT
) STRICT;
CREATE INDEX rest_last ON rest (last_ms) WHERE kept IS NOT NULL;
CREATE INDEX rest_awake ON rest (place) WHERE kept IS NULL;

INSERT INTO rest (place) SELECT place FROM live WHERE what IN ('bond', 'batch');
