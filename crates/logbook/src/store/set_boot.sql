INSERT INTO boot (log, boot, first, anchor) VALUES (:log, :boot, :place, :place)
ON CONFLICT (log, boot) DO UPDATE SET anchor = excluded.anchor
