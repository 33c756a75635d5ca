-- How many entries of a log are about a subject so far.
SELECT n FROM about WHERE subject = :subject AND log = :log ORDER BY seq DESC LIMIT 1
