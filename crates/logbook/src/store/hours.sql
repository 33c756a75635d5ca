-- Entries that name readings blocks of a spot, for the hours asked for.
SELECT DISTINCT place FROM hour WHERE spot = :spot AND hour_ms BETWEEN :from AND :to
