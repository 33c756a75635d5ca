-- Nothing of this entry can run any more.
DELETE FROM live WHERE place = :place
