-- Somebody spoke of this.
UPDATE rest SET kept = NULL WHERE place = :thing AND kept IS NOT NULL
