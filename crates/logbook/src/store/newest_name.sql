-- The name given last to a thing of a noun.
SELECT name FROM name WHERE noun = :noun ORDER BY place DESC LIMIT 1
