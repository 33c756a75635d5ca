-- The entries of the last, incomplete tile.
SELECT place, bytes, leaf FROM entry WHERE place BETWEEN :from AND :to ORDER BY place
