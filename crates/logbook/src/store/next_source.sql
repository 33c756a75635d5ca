SELECT source FROM hand WHERE spot = :spot AND source > :after ORDER BY source LIMIT 1
