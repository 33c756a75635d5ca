-- Places of all entries about a thing or naming it.
SELECT (log << 40) | seq FROM about WHERE subject = :thing
UNION ALL
SELECT place FROM refer WHERE target = :thing
