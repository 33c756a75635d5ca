-- A live thing comes to rest, or is stirred up again.
UPDATE live SET rest = :rest WHERE place = :place AND rest <> :rest
