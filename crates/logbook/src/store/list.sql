-- All names of a noun, in order of making.
SELECT name.name, entry.id FROM name JOIN entry ON entry.place = name.place
WHERE name.noun = :noun ORDER BY name.place
