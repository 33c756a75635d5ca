DELETE FROM live WHERE place = :place
