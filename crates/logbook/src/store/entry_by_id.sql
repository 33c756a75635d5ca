-- One entry, by id.
SELECT bytes FROM entry WHERE id = :id
