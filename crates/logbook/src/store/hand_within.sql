SELECT place FROM hand WHERE spot = :spot AND source = :source AND at_ms BETWEEN :from AND :to
