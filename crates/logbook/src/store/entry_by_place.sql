SELECT bytes FROM entry WHERE place = :place
