SELECT leaf FROM entry WHERE place = :place
