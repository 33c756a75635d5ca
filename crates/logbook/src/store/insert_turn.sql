-- An entry at which time may have turned.
INSERT OR REPLACE INTO turn (place, starts) VALUES (:place, :starts)
