-- What corrects or withdraws this entry, and what this entry corrects or withdraws.
SELECT place FROM amend WHERE target = :place
UNION ALL
SELECT target FROM amend WHERE place = :place
