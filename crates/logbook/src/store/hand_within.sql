-- Hand readings of a source at a spot within a stretch.
SELECT place FROM hand WHERE spot = :spot AND source = :source AND at_ms BETWEEN :from AND :to
