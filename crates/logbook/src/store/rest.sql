UPDATE live SET rest = :rest WHERE place = :place AND rest <> :rest
