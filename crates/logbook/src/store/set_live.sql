-- This entry may have a clock that runs.
INSERT INTO live (place, what) VALUES (:place, :what) ON CONFLICT (place) DO NOTHING
