SELECT DISTINCT place FROM hour WHERE spot = :spot AND hour_ms BETWEEN :from AND :to
