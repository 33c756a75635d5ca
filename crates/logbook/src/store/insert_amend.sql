-- A correction or withdrawal of an original.
INSERT INTO amend (target, place) VALUES (:target, :place)
