-- Whether anything is at rest.
SELECT EXISTS (SELECT 1 FROM rest WHERE last_ms > -9223372036854775807 AND kept IS NOT NULL)
