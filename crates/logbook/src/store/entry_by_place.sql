-- One entry, by its place: log and sequence in one number.
SELECT bytes FROM entry WHERE place = :place
