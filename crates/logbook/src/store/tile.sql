-- The hash of a complete subtree.
SELECT hash FROM tile WHERE log = :log AND level = :level AND at = :at
