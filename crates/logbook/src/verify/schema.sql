-- The tables, indexes and triggers of the file, to compare with what this build makes.
SELECT type, name, sql FROM sqlite_schema WHERE sql IS NOT NULL AND name NOT LIKE 'sqlite%'
