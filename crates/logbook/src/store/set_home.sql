INSERT INTO home (key, value) VALUES (:key, :value) ON CONFLICT (key) DO UPDATE SET value = excluded.value
