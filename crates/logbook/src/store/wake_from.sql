-- Something became known about the air from an instant on.
UPDATE rest SET kept = NULL WHERE last_ms >= :from AND kept IS NOT NULL
