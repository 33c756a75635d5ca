-- How many of these entries happened after an instant.
SELECT count(*) FROM entry WHERE place BETWEEN :from AND :to AND happened_ms > :now
