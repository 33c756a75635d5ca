SELECT bytes FROM entry WHERE id = :id
