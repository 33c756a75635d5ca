INSERT OR REPLACE INTO turn (place, starts) VALUES (:place, :starts)
