SELECT name FROM name WHERE noun = :noun ORDER BY place DESC LIMIT 1
