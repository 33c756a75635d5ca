-- This entry may have a clock that runs.
INSERT INTO live (place, what, rest) VALUES (:place, :what, 0) ON CONFLICT (place) DO NOTHING
