-- Notes something about this file outside the logs.
INSERT INTO home (key, value) VALUES (:key, :value) ON CONFLICT (key) DO UPDATE SET value = excluded.value
