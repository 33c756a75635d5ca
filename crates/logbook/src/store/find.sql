-- What bears a name, in order of making.
SELECT entry.id FROM name JOIN entry ON entry.place = name.place
WHERE name.noun = :noun AND name.name = :name ORDER BY name.place
