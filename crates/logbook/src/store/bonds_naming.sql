-- Bonds made of a thing.
SELECT entry.place FROM (
  SELECT (log << 40) | seq AS place FROM about WHERE subject = :thing
  UNION ALL
  SELECT place FROM refer WHERE target = :thing) AS named
CROSS JOIN entry ON entry.place = named.place WHERE entry.kind = 'bond'
