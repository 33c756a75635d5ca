SELECT (log << 40) | seq FROM about WHERE subject = :thing
UNION ALL
SELECT place FROM refer WHERE target = :thing
