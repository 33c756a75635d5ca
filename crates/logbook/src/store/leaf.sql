-- The leaf hash of one entry.
SELECT leaf FROM entry WHERE place = :place
