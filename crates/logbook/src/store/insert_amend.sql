INSERT INTO amend (target, place) VALUES (:target, :place)
