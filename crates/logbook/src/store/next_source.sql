-- The next source of hand readings at a spot, in the order of names.
SELECT source FROM hand WHERE spot = :spot AND source > :after ORDER BY source LIMIT 1
