SELECT place FROM cover WHERE spot = :spot AND until_ms >= :from AND from_ms <= :to
