-- Somebody spoke of a thing that these were made of.
UPDATE rest SET kept = NULL WHERE kept IS NOT NULL AND place IN (
  SELECT (log << 40) | seq FROM about WHERE subject = :thing
  UNION ALL
  SELECT place FROM refer WHERE target = :thing)
