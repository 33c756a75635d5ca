-- All wake.
UPDATE rest SET kept = NULL WHERE kept IS NOT NULL
