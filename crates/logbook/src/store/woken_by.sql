-- A thing that an entry is about, if speaking of it bears on a bond: a bond or batch, or a part where its faces count.
SELECT place FROM entry WHERE id = :id AND (kind IN ('bond', 'batch') OR (:parts AND kind = 'part'))
