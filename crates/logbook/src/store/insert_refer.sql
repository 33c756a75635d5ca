-- An entry names a thing in its body.
INSERT INTO refer (target, place) VALUES (:target, :place)
