INSERT INTO refer (target, place) VALUES (:target, :place)
