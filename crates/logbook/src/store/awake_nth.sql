-- The place of the n-th oldest that is awake.
SELECT place FROM rest WHERE kept IS NULL ORDER BY place LIMIT 1 OFFSET :n
