-- What is known of this file outside the logs.
SELECT value FROM home WHERE key = :key
